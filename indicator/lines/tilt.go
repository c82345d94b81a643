package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

type (
	// HeightLine says that a second sweep begins at another height.
	HeightLine struct {
		Say    string        `json:"say"`
		Trial  int           `json:"trial"`
		Height record.Number `json:"height"`
		unit   geom.Unit
	}
	// TiltLine says what two sweeps make of the reference's lean. Tilt, Stated and Limit are lengths over
	// 100 of the same; AtCutter is what the limit makes of centre and radius at the cutter's height.
	TiltLine struct {
		Say      string        `json:"say"`
		Trial    int           `json:"trial"`
		Height   record.Number `json:"height"`
		Tilt     *record.Value `json:"tilt"`
		Bearing  record.Number `json:"bearing"`
		Stated   record.Number `json:"stated"`
		Limit    record.Number `json:"limit"`
		AtCutter record.Number `json:"at_cutter"`
		text     string
	}
)

var raised = told[session.Raised]{status: asText, undo: func(_ *session.State, e session.Raised, u geom.Unit) string {
	return "the second sweep, height " + plus(e.Height, u)
}, lines: func(st session.Step, e session.Raised, u geom.Unit) []Line {
	return []Line{HeightLine{"height", st.After.Trial, record.Number(u.From(e.Height)), u}}
}}.row()

var tilted = told[session.Tilted]{lines: func(st session.Step, e session.Tilted, u geom.Unit) []Line {
	return []Line{tilt(&st.After, e, u)}
}}.row()

// Text: see [Line].
func (l HeightLine) Text() string {
	way := "above"
	if l.Height < 0 {
		way = "below"
	}
	return fmt.Sprintf("second sweep, %s %v %s the first: the same stations, nothing is wound",
		geom.FormatFixed(math.Abs(float64(l.Height)), geom.Places(0, l.unit)), l.unit, way)
}

// Text: see [Line].
func (l TiltLine) Text() string { return l.text }

// tilt says what the second sweep has found.
func tilt(s *session.State, e session.Tilted, u geom.Unit) Line {
	l := TiltLine{Say: "tilt", Trial: s.Trial, Height: record.Number(u.From(e.Height)), Bearing: record.Number(nan),
		Stated: record.Number(nan), Limit: record.Number(nan), AtCutter: record.Number(nan)}
	set := &s.Set.Job.Setup
	if set.SweepHeight > 0 {
		l.Stated = record.Number(100 * set.TiltLimit)
	}
	if e.Failed {
		l.text = "the two sweeps cannot be compared: the tilt stays as it was stated"
		return l
	}
	by := geom.Point{X: e.X, Y: e.Y}
	l.Tilt, l.Limit, l.Bearing = &record.Value{Value: record.Number(100 * by.Norm()), U95: record.Number(100 * e.U)},
		record.Number(100*e.Limit), record.Degrees360(by.Bearing())
	l.text = TiltWords(s, u)
	if set.SweepHeight > 0 {
		l.AtCutter = record.Number(u.From(e.Limit * set.SweepHeight))
		l.text += fmt.Sprintf("; at the cutter, %s %v below, that is at most %s %v of centre and radius",
			geom.FormatFixed(u.From(set.SweepHeight), geom.Places(0, u)), u, geom.FormatFixed(float64(l.AtCutter), geom.Places(0, u)+1), u)
	} else {
		l.text += "; sweep_height is not stated, so nothing is added for it"
	}
	return l
}

// TiltWords says how far the reference leans, as far as that has been measured, beside what was stated;
// empty where it has not.
func TiltWords(s *session.State, u geom.Unit) string {
	t := s.Tilt
	if t == nil {
		return ""
	}
	by := geom.Point{X: t.X, Y: t.Y}
	w := fmt.Sprintf("tilt %s ±%s in 100", geom.FormatFixed(100*by.Norm(), 4), geom.FormatFixed(100*t.U, 4))
	if by.Norm() > t.U {
		w += fmt.Sprintf(" towards %s going up", DirectionIn(s, by.Bearing(), s.Set.Bearings, 1))
	}
	if set := &s.Set.Job.Setup; set.SweepHeight > 0 {
		w += fmt.Sprintf(" (%s was stated)", geom.FormatFixed(100*set.TiltLimit, 4))
	}
	return w
}
