package report

import (
	_ "embed"
	"html/template"
	"io"
	"strings"
	"sync"
	"unicode"

	"example.org/trammel/geom"
)

//go:embed page.html
var pageText string

var page = parsed("page", pageText)

// parsed is a page that is parsed when it is first written: most starts of the program write none.
func parsed(name, text string) func() *template.Template {
	return sync.OnceValue(func() *template.Template { return template.Must(template.New(name).Parse(text)) })
}

// content is what the page is made from: a session's report or a machine's history.
type content struct {
	Title    string
	Report   *Report
	History  *History
	Cautions []string
}

// HTML writes the report as one page that needs nothing else: pictures and style are in it, and it asks
// no network. Everything that a person has written is escaped.
func (r *Report) HTML(w io.Writer) error {
	return render(w, page(), content{"session report", r, nil, cautions})
}

// HTML writes a machine's history as one page.
func (h *History) HTML(w io.Writer) error {
	return render(w, page(), content{"what is learnt of " + h.Machine, nil, h, cautions})
}

// render writes a page, what does not print replaced: HTML forbids control characters.
func render(w io.Writer, t *template.Template, from any) error {
	var b strings.Builder
	if err := t.Execute(&b, from); err != nil {
		return err
	}
	_, err := io.WriteString(w, geom.Printable(b.String(), unicode.ReplacementChar, '\n'))
	return err
}
