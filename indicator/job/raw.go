package job

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// each walks the keys of a file that may have been read, in the order of its form: do is given each key's path and what stands
// there, which is nil where the file does not have it.
func (r *rawJob) each(do func(key string, at reflect.Value)) {
	eachKey("", reflect.ValueOf(r).Elem(), do)
}

func eachKey(in string, table reflect.Value, do func(string, reflect.Value)) {
	for i := range table.NumField() {
		f := table.Type().Field(i)
		key, at := in+f.Tag.Get("toml"), table.Field(i)
		switch {
		case f.Anonymous: // its keys are the table's own
			eachKey(in, at, do)
		case isNote(f): // no key
		case at.Kind() == reflect.Struct:
			eachKey(key+".", at, do)
		case !isTable(at):
			do(key, at)
		case !at.IsNil():
			eachKey(key+".", at.Elem(), do)
		}
	}
}

// isTable reports whether a field is a table that may be missing.
func isTable(at reflect.Value) bool {
	return at.Kind() == reflect.Pointer && at.Type().Elem().Kind() == reflect.Struct
}

// isNote reports whether a field is no key of a file, but a note of the parser's.
func isNote(f reflect.StructField) bool { return f.Tag.Get("toml") == "" && !f.Anonymous }

// stated are the values that the file has, by their keys.
func (r *rawJob) stated() map[string]Given {
	out := map[string]Given{}
	r.each(func(key string, at reflect.Value) {
		if at.IsNil() {
			return
		}
		g := Given{Key: key}
		switch v := at.Interface().(type) {
		case *string:
			g.toml, g.Typed = quote(*v), *v
		case *float64:
			g.toml = decimal(*v)
		case *bool:
			g.toml = strconv.FormatBool(*v)
		default:
			g.toml = fmt.Sprint(v) // a list, which no question leans on
		}
		if g.Typed == "" {
			g.Typed = g.toml
		}
		out[key] = g
	})
	return out
}

// with is a file with another's keys over its own, and without some. Neither is changed.
func (r *rawJob) with(over *rawJob, without []string) *rawJob {
	out := &rawJob{}
	merge(reflect.ValueOf(out).Elem(), reflect.ValueOf(r).Elem())
	out.each(func(key string, at reflect.Value) {
		if slices.Contains(without, key) {
			at.SetZero()
		}
	})
	merge(reflect.ValueOf(out).Elem(), reflect.ValueOf(over).Elem())
	return out
}

// merge puts into a table what another has.
func merge(into, from reflect.Value) {
	for i := range from.NumField() {
		switch to, at := into.Field(i), from.Field(i); {
		case isNote(from.Type().Field(i)): // it is made anew
		case at.Kind() == reflect.Struct:
			merge(to, at)
		case at.IsNil():
		case isTable(at):
			if to.IsNil() {
				to.Set(reflect.New(at.Type().Elem()))
			}
			merge(to.Elem(), at.Elem())
		default:
			to.Set(at)
		}
	}
}

// places are those that a figure of a setting is written back with: what has gone through another unit has a tail beyond them.
const places = 9

// rawOf is the file that states a job, its lengths in a unit.
func rawOf(j *setup.Job, u geom.Unit) *rawJob {
	r := &rawJob{}
	unit := u.String()
	r.Unit = &unit
	w := writer{u, j}
	w.setup(r)
	w.target(r)
	w.sweep(r)
	w.dial(r)
	if c := j.Cut; c != nil {
		metal := "inside"
		if c.Hollow {
			metal = "outside"
		}
		r.Cut = &rawCut{Metal: &metal, Cutter: w.length(c.Cutter), Stock: w.length(c.Stock), MeasuredError: w.above(c.MeasuredError),
			CutterError: w.limit(indicator.OfCutter, c.CutterLimit), RadiusError: w.above(c.RadiusLimit),
			rawDepth: w.depth(c)}
	}
	w.part(r)
	return r
}

// writer writes a job's figures as a file has them.
type writer struct {
	unit geom.Unit
	job  *setup.Job
}

func plainNumber(v float64) *float64 {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'f', places, 64), 64)
	return &v
}

func (w *writer) length(mm float64) *float64 { return plainNumber(w.unit.From(mm)) }

// above is a length that is left out where it is 0.
func (w *writer) above(mm float64) *float64 {
	if !(mm > 0) {
		return nil
	}
	return w.length(mm)
}

// degrees is an angle in radians that is left out where it is 0.
func degrees(rad float64) *float64 {
	if rad == 0 {
		return nil
	}
	return plainNumber(geom.Bearing(rad).Degrees())
}

// limit is one that is left out where nobody stated it.
func (w *writer) limit(figure string, mm float64) *float64 {
	if !w.job.Stated.Has(figure) {
		return nil
	}
	return w.length(mm)
}

func (w *writer) setup(r *rawJob) {
	s, out := &w.job.Setup, &r.Setup
	kind, touch := s.Kind.String(), s.Touch.String()
	out.Kind, out.Touch = &kind, &touch
	out.ReferenceRadius, out.TipDiameter = w.above(s.ReferenceRadius), w.above(s.TipDiameter)
	if s.ReachKnown {
		out.Reach = w.length(s.Reach)
	}
	out.IndicatorBearing = degrees(float64(s.IndicatorBearing))
	out.ReferenceError = w.limit(indicator.OfReference, s.ReferenceLimit)
	out.FormError = w.limit(indicator.OfForm, s.FormLimit)
	out.ReachError = w.limit(indicator.OfReach, s.ReachLimit)
	out.Held, out.HeldError = w.above(s.HeldRadius), w.limit(indicator.OfHeld, s.HeldLimit)
	if s.TiltLimit > 0 || s.SweepHeight > 0 {
		out.Tilt, out.SweepHeight = plainNumber(100*s.TiltLimit), w.length(s.SweepHeight)
	}
	if s.Taps {
		out.Taps = &s.Taps
	}
	w.about(r)
}

func (w *writer) about(r *rawJob) {
	a := w.job.About
	if a == nil {
		return
	}
	place := func(p geom.Point) []float64 { return []float64{*w.length(p.X), *w.length(p.Y)} }
	r.Setup.ReferenceAt, r.Target.CentreAt = place(a.Reference), place(a.Centre)
	per100 := func(figure string, v float64) *float64 {
		if !w.job.Stated.Has(figure) {
			return nil
		}
		return plainNumber(v)
	}
	r.Setup.Angle = degrees(float64(a.Angle))
	r.Setup.AngleError = per100(indicator.OfAngle, geom.Bearing(a.AngleLimit).Degrees())
	r.Setup.SlidePer100, r.Setup.SquarePer100 = per100(indicator.OfSlides, a.SlidePer100), per100(indicator.OfSquare, a.SquarePer100)
}

// count is a number of things that is left out where it is 0.
func count(n int) *float64 {
	if n == 0 {
		return nil
	}
	return plainNumber(float64(n))
}

func (w *writer) target(r *rawJob) {
	t, out := &w.job.Target, &r.Target
	out.SwingRadius, out.Tolerance, out.CentreTolerance = w.above(t.SwingRadius), w.above(t.Tolerance), w.above(t.CentreTolerance)
	if off := t.SetOff; off != nil {
		by := off.Slide
		if off.Way == slide.Decrease {
			by = "-" + by
		}
		out.SetOffBy = &by
	}
}

func (w *writer) sweep(r *rawJob) {
	s, out := &w.job.Sweep, &r.Sweep
	out.Stations, out.AtLeast = count(s.Stations), count(s.AtLeast)
	if s.Closing {
		out.Closing = &s.Closing
	}
	if from, to := s.From.Degrees(), s.To.Degrees(); math.Abs(from) > same || math.Abs(to-360) > same {
		out.From, out.To = plainNumber(from), plainNumber(to)
	}
	for _, o := range s.Obstacles {
		out.Obstacles = append(out.Obstacles, []float64{*plainNumber(o.From.Degrees360()), *plainNumber(o.To.Degrees360())})
	}
}

func (w *writer) dial(r *rawJob) {
	d, out := &w.job.Dial, &r.Dial
	out.Graduation, out.Revolution, out.Repeatability = w.above(d.Graduation), w.above(d.Revolution), w.above(d.Repeatability)
	usual := indicator.DefaultReadsTo
	if w.job.Setup.Kind == indicator.Points {
		usual = 1
	}
	if d.ReadsTo != usual {
		out.ReadsTo = plainNumber(d.ReadsTo)
	}
	switch {
	case d.From == 0 && d.To == 0:
	case d.From == -d.To:
		out.Range = w.length(2 * d.To)
	default:
		out.From, out.To = w.length(d.From), w.length(d.To)
	}
	out.AngleError, out.LeverAngle, out.LeverError = degrees(d.AngleError), degrees(d.LeverAngle), degrees(d.LeverLimit)
	out.Error, out.Repeats = w.limit(indicator.OfDial, d.ErrorLimit), count(d.Repeats)
	if d.Falls {
		falls := pressedFalls
		out.Pressed = &falls
	}
	if d.WholeNumbers != "" {
		whole := string(d.WholeNumbers)
		out.WholeNumbers = &whole
	}
}
