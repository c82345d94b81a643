package pane

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui/plot"
)

// formWidth is what the table of the form wants; a picture stands beside it where there is more.
const formWidth = 44

// Form is the page of the reference's form: the four circles of the standards with what the surface
// departs from each, beside what readings of the stated repeatability would make of a true circle,
// and the profile, exaggerated.
func Form(v *View, w, h int) string {
	right := w - formWidth
	if v.FormErr != nil || right < 16 {
		return formTable(v, w, h)
	}
	return Beside(formTable(v, formWidth, h), Box(v.Theme, plot.Radial(formPicture(v), right, h, v.Theme), right, h))
}

// formColumns are how wide the columns are: name, abbreviation, departure, noise. The abbreviation
// goes first, then the name; what noise makes stays beside what is judged.
func formColumns(w int) [4]int {
	switch {
	case w >= 43:
		return [4]int{18, 4, 9, 12}
	case w >= 38:
		return [4]int{17, 0, 9, 12}
	}
	return [4]int{0, 4, 8, 7}
}

func formTable(v *View, w, h int) string {
	t, r := v.Theme, &v.Form
	if v.FormErr != nil {
		out := append([]string{t.Strong.Render("form of the reference")}, wrap("cannot be judged: "+v.text(v.FormErr.Error()), w, 2)...)
		return Box(t, strings.Join(out, "\n"), w, h)
	}
	c := formColumns(w)
	row := func(name, short, departs, noise string) string {
		if c[0] == 0 {
			name = ""
		}
		if c[1] == 0 {
			short = ""
		}
		return pad(name, c[0], false) + pad(short, c[1], false) + pad(departs, c[2], true) + pad(noise, c[3], true)
	}
	alone := "noise alone"
	if len(alone) > c[3]-1 {
		alone = "noise"
	}
	unit := v.unit().String()
	out := []string{t.Strong.Render(first(w, []string{
		fmt.Sprintf("form of the %v: trial %d, %d stations", v.job().Setup.Touch, r.Trial, r.Places),
		fmt.Sprintf("form: %d stations", r.Places),
	})), t.Dim.Render(row(unit, unit, "departs", alone))}
	if c[0] > 0 {
		out[1] = t.Dim.Render(row(unit, "", "departs", alone))
	}
	for _, x := range []struct {
		name, short string
		*indicator.FormCircle
	}{
		{"least squares", "LSC", &r.LeastSquares}, {"minimum zone", "MZC", &r.MinimumZone},
		{"smallest outside", "MCC", &r.MinimumCircumscribed}, {"largest inside", "MIC", &r.MaximumInscribed},
	} {
		noise := t.Glyphs.Query
		if !math.IsNaN(x.Noise) {
			noise = v.length(x.Noise)
		}
		out = append(out, row(x.name, x.short, v.length(x.Departure), noise))
	}
	return Box(t, strings.Join(append(out, formWords(v, w)...), "\n"), w, h)
}

// formWords says where the metal stands out, and what the figures are worth, the most needed first:
// a small window cuts the last.
func formWords(v *View, w int) (out []string) {
	r, u := &v.Form, v.unit()
	spot := func(name string, s indicator.Spot) string {
		return fmt.Sprintf("%s spot %s %v at %s", name, v.length(s.Departure), u, v.spot(s.At))
	}
	high, low := spot("high", r.Peak), spot("low", r.Valley)
	if both := high + ", " + low; len([]rune(both)) <= w {
		out = append(out, both)
	} else {
		out = append(out, first(w, []string{fmt.Sprintf("%s (station %d)", high, r.Station[r.Peak.Index]), high}),
			first(w, []string{fmt.Sprintf("%s (station %d)", low, r.Station[r.Valley.Index]), low}))
	}
	if len(r.Kept) > 0 {
		out = append(out, wrapped(v.Theme.Doubt, fmt.Sprintf("station %d did not fit and was kept: it is in here", r.Kept[0]), w)...)
	}
	noise := "noise alone: not known; it needs the dial's repeatability in the job"
	if d := v.job().Dial; d.Repeatability > 0 {
		noise = fmt.Sprintf("noise alone: readings that repeat to %s %v make that of a true %v; no more says nothing against it",
			v.Num(geom.FormatFixed(u.From(d.Repeatability), geom.Places(0, u))), u, v.job().Setup.Touch)
	}
	for _, s := range []string{
		fmt.Sprintf("%d stations: sure of %d lobes, more may hide", r.Places, r.Lobes), noise,
		"an error of the swing looks the same",
	} {
		out = append(out, wrapped(v.Theme.Dim, s, w)...)
	}
	return out
}

// formPicture puts the profile about its least-squares circle.
func formPicture(v *View) plot.Picture {
	r := &v.Form
	p := plot.Picture{Radius: r.LeastSquares.Radius, Joined: true, Named: "form"}
	for i, s := range r.Profile {
		for len(p.Stations) < r.Station[i] {
			p.Stations = append(p.Stations, plot.Mark{Bearing: geom.Bearing(math.NaN())})
		}
		p.Stations[r.Station[i]-1] = plot.Mark{Bearing: s.At, Out: s.Departure, Present: true}
	}
	return p
}

// spot is where the metal stands out or back, by the figures that are wanted.
func (v *View) spot(b geom.Bearing) string {
	if v.Bearings == session.ByRing {
		return "ring " + v.degrees(math.Round(v.State.RingAt(b)*10)/10)
	}
	return v.degrees(math.Round(b.Degrees360()*10) / 10)
}
