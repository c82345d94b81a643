package pane

import (
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// onTable puts the plate on a rotary table: the indicator stands at 90°, the ring's figures grow clockwise and
// it has a vernier of five minutes, and the handwheel of table Y cannot be reached everywhere.
func onTable(o *session.Opened) {
	o.Job.Setup.Kind, o.Job.Setup.IndicatorBearing = indicator.Turned, 90*geom.Degree
	o.Machine.Table = setup.Ring{Figures: slide.Clockwise, Graduation: float64(geom.Degree), Vernier: float64(geom.Degree) / 12}
	var all []slide.Slide
	for _, s := range o.Machine.Slides {
		switch s.Name {
		case "x":
			s.Name = "table_x"
		case "y":
			s.Name, s.ReachedFrom, s.ReachedTo = "table_y", 150*geom.Degree, 390*geom.Degree
		}
		all = append(all, s)
	}
	o.Machine.Slides = all
}

// tableScenes are the states of the job on a rotary table.
func tableScenes() []scene {
	after := func(n int, change func(*session.Opened)) func(testing.TB) *bench {
		return func(t testing.TB) *bench {
			return begin(t, func(o *session.Opened) {
				onTable(o)
				if change != nil {
					change(o)
				}
			}).answer(n, never)
		}
	}
	byCollar := func(o *session.Opened) {
		for i := range o.Machine.Slides {
			o.Machine.Slides[i].ByCollar = true
		}
	}
	seven := func(o *session.Opened) { o.Job.Sweep.Stations = 7 }
	return []scene{
		{"turned-load-2", after(1, nil), nil},
		{"turned-stations-3", after(3+2, nil), nil},
		{"turned-vernier", after(3+1, seven), nil},
		{"turned-parked-one", after(3+6, nil), nil},
		{"turned-collar-two", after(3+6+1, byCollar), nil},
	}
}
