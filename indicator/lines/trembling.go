package lines

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// TremblesLine says that the samples of an indicator with a cable spread, while the needle stands still, by more than what is stated
// of one reading.
type TremblesLine struct {
	Say      string        `json:"say"`
	Spread   record.Number `json:"spread"`
	Readings int           `json:"readings"`
	Dof      record.Number `json:"dof"`
	Stated   record.Number `json:"repeatability"`
	State    record.Number `json:"state"`
	unit     geom.Unit
}

// trembling is that line where a step brings it, once in a setting.
func trembling(st session.Step, u geom.Unit) (l TremblesLine, ok bool) {
	t := st.After.Trembling
	if _, undo := st.Event.(session.Undone); undo || !t.Told || st.Before.Trembling.Told {
		return l, false
	}
	spread := u.From(t.Spread())
	return TremblesLine{"trembles", record.Number(spread), t.Readings, record.Number(t.Dof),
		record.Number(u.From(st.After.Set.Job.Dial.Repeatability)), record.Number(upward(spread)), u}, true
}

// upward is a length rounded up to two figures.
func upward(v float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Ceil(v/step-1e-9) * step
}

// Text: see [Line].
func (l TremblesLine) Text() string {
	return fmt.Sprintf("the needle trembles by %.2g %v while it stands still (%d readings), more than the repeatability stated, %.2g %v; "+
		"see what shakes it, or state repeatability = %.2g or more under [dial] in the job file", float64(l.Spread), l.unit, l.Readings,
		float64(l.Stated), l.unit, float64(l.State))
}
