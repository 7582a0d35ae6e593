package readings

import (
	"bytes"
	"fmt"
	"strings"
)

// word is one word of a CGATS.17 file.
type word struct {
	text   string
	line   int
	quoted bool
}

// cgatsWords splits the text into words; # begins a comment, quotes hold blanks.
func cgatsWords(set *Set, data []byte) (out []word, err error) {
	line := 0
	for text := range bytes.Lines(data) {
		line++
		rest := strings.TrimRight(string(text), "\r\n")
		for {
			rest = strings.TrimLeft(rest, " \t\r\f\v")
			if rest == "" || rest[0] == '#' {
				break
			}
			if rest[0] == '"' {
				end := strings.IndexByte(rest[1:], '"')
				if end < 0 {
					return nil, set.wrong(line, "", "a quotation has no end on its line", `close it with "`)
				}
				out = append(out, word{rest[1 : 1+end], line, true})
				rest = rest[end+2:]
				continue
			}
			end := strings.IndexAny(rest, " \t\r\f\v")
			if end < 0 {
				end = len(rest)
			}
			out = append(out, word{rest[:end], line, false})
			rest = rest[end:]
		}
	}
	return out, nil
}

// readCGATS reads the tables of a CGATS.17 file that hold spectra.
func readCGATS(set *Set, data []byte) ([]raw, error) {
	words, err := cgatsWords(set, data)
	if err != nil {
		return nil, err
	}
	var format, all = []string(nil), []raw(nil)
	for i := 0; i < len(words); i++ {
		w := words[i]
		if w.quoted {
			continue
		}
		switch strings.ToUpper(w.text) {
		case "BEGIN_DATA_FORMAT":
			body, next, err := block(set, words, i, "END_DATA_FORMAT")
			if err != nil {
				return nil, err
			}
			format = nil
			for _, f := range body {
				format = append(format, f.text)
			}
			i = next
		case "BEGIN_DATA":
			body, next, err := block(set, words, i, "END_DATA")
			if err != nil {
				return nil, err
			}
			rows, err := dataRows(set, w.line, format, body)
			if err != nil {
				return nil, err
			}
			if all = append(all, rows...); len(all) > maxSamples {
				return nil, set.wrong(w.line, "", fmt.Sprintf("more than %d samples", maxSamples), "split the file")
			}
			i = next
		}
	}
	return all, nil
}

// block is the words between words[i] and the closing word, and where that stands.
func block(set *Set, words []word, i int, end string) ([]word, int, error) {
	for j := i + 1; j < len(words); j++ {
		if !words[j].quoted && strings.EqualFold(words[j].text, end) {
			return words[i+1 : j], j, nil
		}
	}
	return nil, 0, set.wrong(words[i].line, words[i].text, "no "+end+" follows", "export the whole file again")
}

// dataRows cuts the words of a table into rows.
func dataRows(set *Set, line int, format []string, body []word) (out []raw, err error) {
	if len(format) == 0 {
		return nil, set.wrong(line, "BEGIN_DATA", "no BEGIN_DATA_FORMAT stands before it", "export the whole file again")
	}
	c, msg := findColumns(format)
	if len(c.wavelengths) == 0 { // a table of something else
		return nil, nil
	}
	if msg != "" {
		return nil, set.wrong(line, "data format", msg, "export SAMPLE_NAME and the spectrum, such as SPECTRAL_NM400 to SPECTRAL_NM700")
	}
	if extra := len(body) % len(format); extra != 0 {
		last := body[len(body)-1].line
		return nil, set.wrong(last, "", fmt.Sprintf("the last row has %d of %d fields", extra, len(format)), `put names with blanks in "quotes"`)
	}
	for i := 0; i < len(body); i += len(format) {
		row := make([]string, len(format))
		for k := range row {
			row[k] = body[i+k].text
		}
		one, err := c.take(set, body[i].line, row)
		if err != nil {
			return nil, err
		}
		if out = append(out, one); len(out) > maxSamples {
			return nil, set.wrong(body[i].line, "", fmt.Sprintf("more than %d samples", maxSamples), "split the file")
		}
	}
	return out, nil
}
