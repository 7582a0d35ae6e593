package tomltext

import (
	"bytes"
	"errors"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
)

// Trouble is what is wrong with a document, in the words of those who write it.
type Trouble struct {
	Line        int    // 0: of no single line
	Key         string // such as limits.keep; may be empty
	Msg, Remedy string
	Unknown     bool // the key is not known; Msg says only that
}

// IsText reports whether a file can be TOML at all.
func IsText(data []byte) bool { return utf8.Valid(data) && bytes.IndexByte(data, 0) < 0 }

// Explain puts what the TOML decoder found wrong into plain words.
func Explain(err error) Trouble {
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) && len(strict.Errors) > 0 {
		line, _ := strict.Errors[0].Position()
		return Trouble{line, dotted(strict.Errors[0].Key()), "unknown key", "correct or remove it", true}
	}
	t := Trouble{Msg: strings.TrimPrefix(err.Error(), "toml: "), Remedy: remedySyntax}
	var wrong *toml.DecodeError
	if errors.As(err, &wrong) {
		t.Line, _ = wrong.Position()
		t.Key = dotted(wrong.Key())
		t.Msg = strings.TrimPrefix(wrong.Error(), "toml: ")
	}
	switch m := mismatch.FindStringSubmatch(t.Msg); {
	case m != nil:
		t.Msg, t.Remedy = given(m[1])+" stands where "+wanted(m[2])+" is wanted", example(m[2])
	case strings.Contains(t.Msg, "already"):
		t.Msg, t.Remedy = "it is written twice", "put both together or remove one"
	case strings.Contains(t.Msg, "too large"), strings.Contains(t.Msg, "out of range"):
		t.Msg, t.Remedy = "the number is too large", "write a smaller one"
	}
	return t
}

const remedySyntax = `write each line as key = value, with text in "quotes" and # before a remark`

func dotted(key toml.Key) string { return strings.Join(key, ".") }

// mismatch is how the decoder says that a value is of another type.
var mismatch = regexp.MustCompile(`^cannot decode TOML (.+?) into (?:struct field \S+ of type|a Go value of type) (\S+)$`)

func given(kind string) string {
	words := map[string]string{
		"string": "text in quotes", "integer": "a whole number", "float": "a decimal number", "boolean": "true or false",
		"array": "a list", "inline table": "a table in braces", "table": "a table", "array table": "a list of tables",
	}
	if w, ok := words[kind]; ok {
		return w
	}
	return "a date or time"
}

func wanted(goType string) string {
	switch {
	case goType == "int" || goType == "int64":
		return "a whole number"
	case goType == "float64":
		return "a number"
	case goType == "bool":
		return "true or false"
	case strings.HasPrefix(goType, "[][]"):
		return "a list of lists"
	case strings.HasPrefix(goType, "[]") && strings.Contains(goType, "."):
		return "a table under its own heading"
	case strings.HasPrefix(goType, "[]"):
		return "a list"
	case strings.Contains(goType, "string") || strings.Contains(goType, "Preference"):
		return "text in quotes"
	}
	return "a table"
}

func example(goType string) string {
	switch wanted(goType) {
	case "a whole number":
		return "write it as in 4, without quotes"
	case "a number":
		return "write it as in 2.5, without quotes"
	case "true or false":
		return "write true or false, without quotes"
	case "a list of lists":
		return `write it as in [["viridian", "ivory-black"]]`
	case "a table under its own heading":
		return "begin it with its name in double brackets, such as [[target]] or [[tube]], on a line of its own"
	case "a list":
		if strings.Contains(goType, "float") {
			return "write it as in [0.1, 0.2]"
		}
		return `write it as in ["viridian", "ivory-black"]`
	case "text in quotes":
		return `write it as in "wet mud"`
	}
	return "write it in braces, as in {x = 0.4, y = 0.8}"
}
