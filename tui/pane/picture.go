package pane

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/tui/plot"
)

// Picture is the right zone: the sweep drawn round its circle, or a handwheel with the way to
// turn it.
func Picture(v *View, w, h int) string {
	if v.Prompt.Waits == session.ForLoad || v.Prompt.Waits == session.ForWind {
		if tap := v.Prompt.Wind.Told.Tap; tap != nil {
			return Box(v.Theme, plot.Tap(v.job().Setup.IndicatorBearing, tap.Towards, w, h, v.Theme), w, h)
		}
		return Box(v.Theme, wheel(v, w, h), w, h)
	}
	if v.pair() {
		return Box(v.Theme, plot.Radial(pointPicture(v), w, h, v.Theme), w, h)
	}
	return Box(v.Theme, plot.Radial(picture(v), w, h, v.Theme), w, h)
}

// Dial draws the simulated indicator, or the cable indicator.
func Dial(v *View, w, h int) string {
	if v.Cabled {
		return needle(v, w, h)
	}
	d := v.job().Dial
	if !v.NeedleOn || d.Revolution == 0 {
		return Box(v.Theme, "the needle is off the dial", w, h)
	}
	return Box(v.Theme, plot.Dial(v.Needle, d.Graduation, d.Revolution, v.unit(), w, h, v.Theme), w, h)
}

func wheel(v *View, w, h int) string {
	sl, moves := v.Prompt.Handwheel()
	if len(moves) == 0 { // a journal may hold such a wind
		return ""
	}
	last := moves[len(moves)-1]
	figure := record.Amount(sl.Shown(last))
	switch p := v.Prompt; {
	case v.Watching():
		return plot.Handwheel(v.hand() == slide.Clockwise, false, v.reading(v.Watch.Reach()), w, h, v.Theme)
	case p.Waits == session.ForWind && p.Wind.Told.Park != nil:
		figure = v.reading(p.Wind.Told.Park.Goal)
	case p.Waits == session.ForWind && p.Wind.How == session.ByCoordinate:
		figure = v.coordinate(p.Wind.Goal)
	case p.Waits == session.ForWind:
		figure = record.Divisions(sl.ShownCollar(v.Prompt.Wind.Told.Wind.CollarTo))
	}
	return plot.Handwheel(last.Turn == slide.Clockwise, len(moves) > 1, figure, w, h, v.Theme)
}

// picture puts the sweep into the plot's terms: how far outside the circle of the dial's zero
// the surface was met, and where the fitted circle stands.
func picture(v *View) plot.Picture {
	s := &v.State
	p := plot.Picture{Radius: s.Set.Job.Setup.ReferenceRadius, Tolerance: s.Set.Job.Target.CentreTolerance}
	for _, o := range s.Set.Job.Sweep.Obstacles {
		p.Blocked = append(p.Blocked, plot.Sector(o))
	}
	out := s.Set.Job.Dial.Gain()
	if s.Set.Job.Setup.Touch == indicator.Bore {
		out = -out
	}
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		st := &s.Sweep.Stations[i]
		p.Stations = append(p.Stations, plot.Mark{Bearing: st.Bearing, Out: out * st.Reading, Present: !st.Skipped})
	}
	if v.Prompt.Waits == session.ForReading {
		b := v.Prompt.Reading.Bearing
		p.Next = &b
	}
	if v.Fitted {
		p.Fitted, p.Centre = true, v.Found.Circle.Centre
		if e, ok := v.Found.Ellipse(); ok {
			p.EllipseCov = covariance(e)
		}
	}
	return p
}

// covariance is the matrix of an ellipse, mm².
func covariance(e fit.Ellipse) [2][2]float64 {
	sin, cos := math.Sincos(float64(e.Along))
	a, b := e.Major*e.Major, e.Minor*e.Minor
	return [2][2]float64{
		{a*cos*cos + b*sin*sin, (a - b) * sin * cos},
		{(a - b) * sin * cos, a*sin*sin + b*cos*cos},
	}
}

// Trials is the page of finished trials and the present one; beside them, where there is room, how the parts on the setting have gone on.
func Trials(v *View, w, h int) string {
	if left := max(trialsWide, min(w/2, w-2*partsWide)); w-left >= partsWide {
		parts := Parts(v, w-left, h)
		if len(parts) == 0 {
			parts = partCharts(v, w-left, h) // what they show was said where the last of them was accepted
		}
		if len(parts) > 0 {
			trials := Box(v.Theme, strings.Join(tail(trialLines(v, left), h), "\n"), left, h)
			return Beside(trials, Box(v.Theme, strings.Join(parts, "\n"), w-left, h))
		}
	}
	return Box(v.Theme, strings.Join(tail(trialLines(v, w), h), "\n"), w, h)
}

// trialsWide is what the trials need of the width.
const trialsWide = 44

// trialLines are the lines of all trials, the present one last.
func trialLines(v *View, w int) []string {
	title := "trials"
	if v.State.Part > 1 {
		title = fmt.Sprintf("part %d: trials", v.State.Part)
	}
	out := []string{v.Theme.Strong.Render(title)}
	var past [][]string
	for tr := v.State.Past; tr != nil; tr = tr.Before {
		past = append(past, trialText(v, tr.Number, &tr.Sweep, tr.Winds, w))
	}
	for i := len(past) - 1; i >= 0; i-- {
		out = append(out, past[i]...)
	}
	return append(out, trialText(v, v.State.Trial, &v.State.Sweep, v.State.Winds, w)...)
}
