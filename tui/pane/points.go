package pane

import (
	"fmt"
	"math"

	"github.com/charmbracelet/lipgloss"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/plot"
)

// pair reports whether a station is answered with two coordinates, and not with what a needle shows.
func (v *View) pair() bool { return v.State.SetUp().Under().Pair }

func roundDegrees(deg float64) float64 { return math.Round(deg*10) / 10 }

// coordinate prints what a readout shows, in the job's unit.
func (v *View) coordinate(mm float64) string {
	return v.Num(geom.FormatFixed(v.unit().From(mm), record.CoordinatePlaces(&v.State, v.unit())))
}

// side is how the circle is touched, in short.
func (v *View) side() string {
	if v.job().Setup.Touch == indicator.Boss {
		return "the boss from outside"
	}
	return "the bore's wall"
}

// pointAction asks for a touched point.
func pointAction(v *View) action {
	p, at := v.Prompt, v.degrees(roundDegrees(v.Prompt.Reading.Bearing.Degrees360()))
	words := []string{
		fmt.Sprintf("point %d of %d: touch %s about %s from the middle, type x y (%v)", p.Reading.Station, p.Reading.Of, v.side(), at,
			v.unit()),
		fmt.Sprintf("%d of %d: touch about %s, type x y (%v)", p.Reading.Station, p.Reading.Of, at, v.unit()),
	}
	if p.Reading.Again {
		may := record.SlipWords(p.Reading.Doubt.Because)
		if d := p.Reading.Doubt.WouldBeAt; d != nil {
			may += fmt.Sprintf(" then %s %s", v.coordinate(d.X), v.coordinate(d.Y))
		}
		words = []string{fmt.Sprintf("point %d does not fit: %s", p.Reading.Station, may), fmt.Sprintf("%d: %s", p.Reading.Station, may)}
	}
	return big(words, "touch "+at, at)
}

// goList spells out a wind to a coordinate.
func (v *View) goList() []string {
	p, t := v.Prompt, v.Theme
	out := []string{
		t.Dim.Render(windHeading(v)),
		t.Now.Render(fmt.Sprintf("%s slide  to %s %v", SlideName(p.Wind.Slide.Name), v.coordinate(p.Wind.Goal), v.unit())),
	}
	out = append(append(out, firstLines(v, columnWidth)...), v.courseLines()...)
	if p.Wind.Zero {
		out = append(out, "  set its readout to 0 here first")
	} else {
		out = append(out, fmt.Sprintf("  now at %s %v", v.coordinate(v.State.Stand(p.Wind.Slide.Name).At), v.unit()))
	}
	if why := lines.TravelWords(&v.State, v.unit()); why != "" {
		for _, l := range wrap(t.Glyphs.Cross+" "+why, workWidth, 4) {
			out = append(out, t.Bad.Render(l))
		}
	}
	out = append(out, "  about, "+record.FacingHandle)
	out = append(out, v.moveLines()...)
	if n := len(p.Wind.Moves); n > 0 {
		out = append(out, "  ends "+p.Wind.Moves[n-1].Turn.String()+": backlash taken up")
	}
	return append(out, lastLines(v)...)
}

// pointList has one row for every point, touched, asked for or to come.
func pointList(v *View) []string {
	t, s := v.Theme, &v.State
	out := []string{t.Dim.Render(pointRow("", "", "x", "y", "off by", ""))}
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		st := &s.Sweep.Stations[i]
		mark, flag, off := "", "", ""
		x, y := v.coordinate(st.At.X), v.coordinate(st.At.Y)
		if st.Skipped {
			x, y = "left out", ""
		}
		if st.OffBy.Known() {
			off = v.reading(st.OffBy.V)
		}
		switch {
		case v.Prompt.Reading.Again && v.Prompt.Reading.Station == i+1:
			mark, flag = t.Glyphs.RightMark, t.Glyphs.Query
		case st.Kept:
			flag = "kept"
		case st.Surprise:
			flag = v.surprised(st)
		}
		r := pointRow(mark, fmt.Sprint(i+1), x, y, off, flag)
		if mark != "" {
			r = t.Now.Render(r)
		}
		out = append(out, r)
	}
	if v.Prompt.Waits != session.ForReading {
		return out
	}
	for n := s.Sweep.N + 1; n <= v.Prompt.Reading.Of && !v.Prompt.Reading.Again; n++ {
		mark, b := "", s.Plan().Bearing(n-1)
		style := t.Dim
		if n == v.Prompt.Reading.Station {
			mark, b, style = t.Glyphs.RightMark, v.Prompt.Reading.Bearing, t.Now
		}
		out = append(out, style.Render(pointRow(mark, fmt.Sprint(n), "about "+v.degrees(roundDegrees(b.Degrees360())), "", "", "")))
	}
	return out
}

func pointRow(mark, n, x, y, off, flag string) string {
	if flag != "" {
		flag = " " + flag
	}
	return pad(mark, 2, false) + pad(n, 2, true) + pad(x, 13, true) + pad(y, 12, true) + pad(off, 9, true) + flag
}

// pointResults is what the points say: where to go, how large the circle is, and how far the spindle stands off.
func (v *View) pointResults(w int) []string {
	t, err := v.State.Located()
	if err != nil {
		return nil
	}
	g := v.Theme.Glyphs
	out := []string{
		v.Theme.Strong.Render(fmt.Sprintf("go to X %s", v.coordinate(t.Centre.X))) + fmt.Sprintf(" %s%s", g.PlusMinus,
			v.doubt(t.CentreX().U)),
		v.Theme.Strong.Render(fmt.Sprintf("      Y %s", v.coordinate(t.Centre.Y))) + fmt.Sprintf(" %s%s %v", g.PlusMinus,
			v.doubt(t.CentreY().U), v.unit()),
		"radius " + v.measured(t.Radius()),
	}
	if f, ok := v.State.Standing(&t.Found); ok {
		line := "spindle off " + v.measured(f.Offset())
		if word := " " + v.verdict(v.State.Verdicts(&f).Centre); lipgloss.Width(line+word) <= w {
			line += word
		}
		out = append(out, line)
	}
	return out
}

// doubt prints an expanded uncertainty, or a query where it is not known.
func (v *View) doubt(u float64) string {
	if math.IsNaN(u) {
		return v.Theme.Glyphs.Query
	}
	return geom.FormatFixed(v.unit().From(u), geom.Places(v.unit().From(u), v.unit()))
}

// pointPicture puts the points into the plot's terms, seen from the middle of their circle.
func pointPicture(v *View) plot.Picture {
	s := &v.State
	p := plot.Picture{Radius: s.Set.Job.Setup.ReferenceRadius, Tolerance: s.Set.Job.Target.CentreTolerance, Named: "points"}
	for _, o := range s.Set.Job.Sweep.Obstacles {
		p.Blocked = append(p.Blocked, plot.Sector(o))
	}
	if p.Radius == 0 {
		p.Radius = 1
	}
	t, err := s.Located()
	k := 0
	for i := range s.Sweep.Stations[:s.Sweep.N] {
		st := &s.Sweep.Stations[i]
		m := plot.Mark{Bearing: st.Bearing, Present: !st.Skipped}
		if err == nil && !st.Skipped {
			m.Bearing, m.Out = t.Bearings[k], t.Distances[k]-t.Found.Circle.Level
			k++
		}
		p.Stations = append(p.Stations, m)
	}
	if v.Prompt.Waits == session.ForReading {
		b := v.Prompt.Reading.Bearing
		p.Next = &b
	}
	if err == nil {
		p.Radius, p.Fitted = t.Found.Circle.Level, true
		if e, ok := t.Found.Ellipse(); ok {
			p.EllipseCov = covariance(e)
		}
	}
	return p
}
