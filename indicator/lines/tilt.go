package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

type (
	// HeightLine says that a second sweep begins at another height.
	HeightLine struct {
		Say    string `json:"say"`
		Trial  int    `json:"trial"`
		Height Number `json:"height"`
		unit   geom.Unit
	}
	// TiltLine says what two sweeps make of the reference's lean. Tilt, Stated and Limit are lengths over
	// 100 of the same; AtCutter is what the limit makes of centre and radius at the cutter's height.
	TiltLine struct {
		Say      string `json:"say"`
		Trial    int    `json:"trial"`
		Height   Number `json:"height"`
		Tilt     *Value `json:"tilt"`
		Bearing  Number `json:"bearing"`
		Stated   Number `json:"stated"`
		Limit    Number `json:"limit"`
		AtCutter Number `json:"at_cutter"`
		text     string
	}
)

var raised = told[session.Raised]{status: asText, lines: func(st session.Step, e session.Raised, u geom.Unit) []Line {
	return []Line{HeightLine{"height", st.After.Trial, Number(u.From(e.Height)), u}}
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
	return fmt.Sprintf("second sweep, %s %v %s the first: the same stations, nothing is wound", geom.FormatFixed(math.Abs(float64(l.Height)), geom.Places(0, l.unit)), l.unit, way)
}

// Text: see [Line].
func (l TiltLine) Text() string { return l.text }

// tilt says what the second sweep has found.
func tilt(s *session.State, e session.Tilted, u geom.Unit) Line {
	l := TiltLine{Say: "tilt", Trial: s.Trial, Height: Number(u.From(e.Height)), Bearing: Number(nan), Stated: Number(nan), Limit: Number(nan), AtCutter: Number(nan)}
	set := &s.Set.Job.Setup
	if set.SweepHeight > 0 {
		l.Stated = Number(100 * set.TiltLimit)
	}
	if e.Failed {
		l.text = "the two sweeps cannot be compared: the tilt stays as it was stated"
		return l
	}
	by := geom.Point{X: e.X, Y: e.Y}
	l.Tilt, l.Limit, l.Bearing = &Value{Number(100 * by.Norm()), Number(100 * e.U)}, Number(100*e.Limit), degrees(by.Bearing())
	l.text = TiltWords(s, u)
	if set.SweepHeight > 0 {
		l.AtCutter = Number(u.From(e.Limit * set.SweepHeight))
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
		w += fmt.Sprintf(" towards %s going up", Degrees(math.Mod(math.Round(by.Bearing().Degrees360()), 360)))
	}
	if set := &s.Set.Job.Setup; set.SweepHeight > 0 {
		w += fmt.Sprintf(" (%s was stated)", geom.FormatFixed(100*set.TiltLimit, 4))
	}
	return w
}
