package tomltext

import (
	"fmt"
	"strings"
)

// Writer writes keys line by line.
type Writer struct{ strings.Builder }

// Line writes one line.
func (w *Writer) Line(form string, args ...any) {
	fmt.Fprintf(w, form, args...)
	w.WriteByte('\n')
}

// Text writes a string key unless it is empty.
func (w *Writer) Text(key, value string) {
	if value != "" {
		w.Line("%s = %s", key, Quote(value))
	}
}

// Array is a TOML array on one line of what form makes of each value.
func Array[T any](list []T, form func(T) string) string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = form(v)
	}
	return "[" + strings.Join(out, ", ") + "]"
}
