package main

import (
	"bytes"
	"errors"
	"path/filepath"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/job"
)

// drawingError adds what to do to what is wrong with a drawing.
func drawingError(label string, err error) error {
	var use *useError
	var machine *job.Error
	out := labelled(label, err)
	switch {
	case errors.As(err, &use), errors.As(err, &machine): // which names its own file
		return err
	case hint(err) != "":
		return out
	}
	return withHint(out, "%s", drawingHint(err))
}

// drawingHint says what to do about an error that does not say it itself.
func drawingHint(err error) string {
	var empty *drawing.EmptyError
	var format *drawing.FormatError
	var layer *drawing.LayerError
	var syntax *drawing.SyntaxError
	var limit *drawing.LimitError
	var group *drawing.GroupError
	switch {
	case errors.As(err, &empty) && len(empty.Notes) > 0:
		var all []string
		for _, n := range empty.Notes[:min(3, len(empty.Notes))] {
			all = append(all, n.Format(geom.Millimetre))
		}
		return strings.Join(all, "; ")
	case errors.Is(err, drawing.ErrNoRepeatability):
		return "part the elements by blank lines, or say how well a touch repeats with --repeatability"
	case errors.As(err, &format):
		return "save the drawing as ASCII DXF, release R12 to R2018"
	case errors.As(err, &layer):
		return "name one of those with --layer, or leave it out to take all"
	case errors.As(err, &syntax), errors.As(err, &group):
		return "correct that line, or make the file anew"
	case errors.As(err, &limit):
		return "take fewer layers with --layer, or save only the outline"
	}
	return "trammel plan --help says what is read"
}

// outline reads the bytes: a text that begins an outline of ours, or a drawing.
func (f *planFlags) outline(c *common, name string, text []byte) (drawing.Outline, error) {
	typed := f.unit(c, geom.Millimetre)
	if f.points != "" {
		return f.touched(text, typed)
	}
	opt := drawing.Options{Layers: f.layers}
	if c.unit.set {
		opt.Unit = &c.unit.v
	}
	// The lengths of both are in the output's unit, which may be the drawing's own.
	read := func() (drawing.Outline, error) {
		if isTOML(name, text) {
			return drawing.ReadTOML(text, opt)
		}
		return drawing.ReadDXF(text, opt)
	}
	if !f.gap.set && f.chords == "" {
		return read()
	}
	out, err := read()
	if err != nil {
		return out, err
	}
	typed = f.unit(c, out.Unit)
	if err := f.joining(&opt, typed); err != nil {
		return drawing.Outline{}, err
	}
	return read()
}

// isTOML goes by the file's ending, and on standard input by what stands there.
func isTOML(name string, text []byte) bool {
	if name != "-" {
		return strings.EqualFold(filepath.Ext(name), ".toml")
	}
	line, _, _ := bytes.Cut(bytes.TrimSpace(text), []byte("\n"))
	return bytes.ContainsAny(line, "=[#")
}

// joining reads the flags that say how ends and chords are joined.
func (f *planFlags) joining(opt *drawing.Options, u geom.Unit) error {
	if f.gap.set {
		if opt.Gap = u.MM(f.gap.v); opt.Gap == 0 {
			opt.Gap = -1
		}
	}
	switch f.chords {
	case "":
	case "off":
		opt.Departure = -1
	default:
		v, err := geom.ParseLength(f.chords, u)
		if err != nil || v < 0 {
			return notLength("chords", f.chords, "off or a length of 0 or more", err)
		}
		if opt.Departure = u.MM(v); v == 0 {
			opt.Departure = -1
		}
	}
	return nil
}

// touched fits an outline to touched points.
func (f *planFlags) touched(text []byte, u geom.Unit) (drawing.Outline, error) {
	groups, err := drawing.ParseTouched(text, u)
	if err != nil {
		return drawing.Outline{}, err
	}
	out, err := drawing.FitTouched(groups, drawing.TouchOptions{Repeatability: u.MM(f.repeatability.v), Closed: f.closed, Layer: "touched"})
	out.Unit = u
	return out.Outline, err
}
