package main

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/job"
)

// several are errors that are told one by one, a line each, with one hint.
type several []error

func (s several) Error() string {
	words := make([]string, len(s))
	for i := range s {
		words[i] = s[i].Error()
	}
	return strings.Join(words, "; ")
}

func (s several) Unwrap() []error { return s }

// together is all that some errors tell; nil for none.
func together(errs ...error) error {
	var all several
	for _, err := range errs {
		if err != nil {
			all = append(all, apart(err)...)
		}
	}
	switch len(all) {
	case 0:
		return nil
	case 1:
		return all[0]
	}
	return all
}

// apart are the errors that are told one by one.
func apart(err error) []error {
	if by := endedBy(err); by != nil && by.err != nil {
		err = by.err
	}
	switch e := err.(type) { // not what is wrapped in it: that is told with what was said around it
	case several:
		return e
	case job.Errors:
		return e.Unwrap()
	}
	return []error{err}
}

// labelled puts the name of its file before what is wrong with a drawing.
func labelled(label string, err error) error {
	var all drawing.TextErrors
	if !errors.As(err, &all) {
		return fmt.Errorf("%s: %w", label, err)
	}
	out := make(several, len(all))
	for i := range all {
		out[i] = fmt.Errorf("%s: %w", label, all[i])
	}
	return out
}

// mostTold bounds how many lines are told: what is wrong in more places is seen at once.
const mostTold = 20

// tellErrors says what is wrong, a line each, and what to do.
func tellErrors(w world, err error) {
	all := apart(err)
	for _, e := range all[:min(len(all), mostTold)] {
		fmt.Fprintf(w.err, "trammel: error: %s\n", printable(e.Error()))
	}
	if more := len(all) - mostTold; more > 0 {
		fmt.Fprintf(w.err, "trammel: error: and %d more\n", more)
	}
	if h := hint(err); len(all) == 1 && h != "" {
		fmt.Fprintf(w.err, "trammel: hint: %s\n", printable(h))
	} else if len(all) > 1 {
		fmt.Fprintf(w.err, "trammel: hint: %s\n", printable(hintOfAll(all)))
	}
}

// hintOfAll is what to do about several: what would be to do about each of them, where that is the same and in one file.
func hintOfAll(all []error) string {
	var hints, files []string
	for _, err := range all {
		name := ""
		var in *job.Error
		var place *fs.PathError
		if errors.As(err, &in) {
			name = in.File
		} else if errors.As(err, &place) {
			name = place.Path
		}
		if name != "" && !slices.Contains(files, name) {
			files = append(files, name)
		}
		if h := hint(err); !slices.Contains(hints, h) {
			hints = append(hints, h)
		}
	}
	switch {
	case len(hints) == 1 && len(files) <= 1 && hints[0] != "" && !strings.HasPrefix(hints[0], correctIn):
		return hints[0]
	case len(files) == 0:
		return "correct each of them"
	}
	spelling := ""
	if strings.Contains(several(all).Error(), job.UnknownKey) {
		spelling = "check the spelling of what is unknown; "
	}
	return spelling + "correct them in " + strings.Join(files, " and ") + "; trammel help job-file, or machine-file, shows what it holds"
}

// correctIn begins the hint for what has none of its own.
const correctIn = "correct it in "
