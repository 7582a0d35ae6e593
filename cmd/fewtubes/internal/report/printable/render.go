// Package printable fills the templates of printable pages, each with its style inside,
// or of a part of another page.
package printable

import (
	"bytes"
	"embed"
	"html/template"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
)

//go:embed templates
var templateFiles embed.FS

var templates = template.Must(template.New("").Funcs(template.FuncMap{
	"css":    styleSheet,
	"join":   strings.Join,
	"safety": func() string { return shown.SafetyNote },
	"fill":   inlineFill,
}).ParseFS(templateFiles, "templates/*.html"))

func styleSheet() (template.CSS, error) {
	text, err := templateFiles.ReadFile("templates/page.css")
	return template.CSS(text), err
}

// Render fills a template whole, so that a failure leaves no half page.
func Render(name string, data any) ([]byte, error) {
	var b bytes.Buffer
	err := templates.ExecuteTemplate(&b, name, data)
	return b.Bytes(), err
}

// fragments are the same templates for a page that has its own head and may
// not hold inline styles: what colours a swatch goes into a data attribute. Only
// a definition that is not empty takes the place of another.
var fragments = template.Must(template.Must(templates.Clone()).
	Funcs(template.FuncMap{"fill": dataFill}).
	Parse(`{{define "head"}}{{""}}{{end}}{{define "foot"}}{{""}}{{end}}`))

// Fragment is render for a part of a page.
func Fragment(name string, data any) ([]byte, error) {
	var b bytes.Buffer
	err := fragments.ExecuteTemplate(&b, name, data)
	return b.Bytes(), err
}

// StyleSheet is the style of every page and fragment.
func StyleSheet() ([]byte, error) { return templateFiles.ReadFile("templates/page.css") }
