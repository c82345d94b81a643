package pane

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/record"
)

// stopNow stands behind the figure to watch where nothing may be wound on.
const stopNow = " STOP"

// watchedAs says in large letters what the figure to watch is: now, or where what is done is wrong, what to do about it first.
func (v *View) watchedAs() string {
	switch v.Watch.Progress {
	case gauge.Astray, gauge.Beyond:
		return stopNow
	case gauge.Over:
		return " back"
	case gauge.Unseen, gauge.Ready, gauge.Outward, gauge.Turning, gauge.Coming, gauge.Close, gauge.There, gauge.Stands, gauge.Moved:
	}
	return " now"
}

// reach is the reading to wind to: after the wrong way, where it began.
func (v *View) reach() float64 {
	if began := v.Watch.Began(); v.Watch.Progress == gauge.Astray && !math.IsNaN(began) {
		return began
	}
	return v.Watch.Reach()
}

// figures are the reading to watch and the one to reach, with the same places and the signs below one another.
func (v *View) figures() (now, reach string) {
	places := record.ReadingPlaces(v.job().Dial, v.unit())
	all := []string{geom.FormatSigned(v.unit().From(v.Moment.Shown()), places), geom.FormatSigned(v.unit().From(v.reach()), places)}
	wide := max(len(all[0]), len(all[1]))
	for i, f := range all {
		all[i] = f[:1] + strings.Repeat("0", wide-len(f)) + f[1:]
	}
	return all[0], all[1]
}

// leastBar is what the bar takes at least, cells, where the words leave as much.
const leastBar = 4

// closing is the bar that closes as the needle comes to the figure, behind what it has to go yet.
func (v *View) closing(text string, w int) string {
	room := w - ansi.StringWidth(text) - 1
	if text == "" {
		room++
	}
	if room < 1 {
		return text
	}
	part, t := v.Watch.Part(), v.Theme
	switch v.Watch.Progress {
	case gauge.There, gauge.Stands, gauge.Moved:
		part = 1
	default:
		part = min(part, 1-1/float64(room)) // it is shut at the goal alone
	}
	full := int(math.Round(max(0, part) * float64(room)))
	bar := t.Now.Render(strings.Repeat(t.Glyphs.Bar, full)) + t.Dim.Render(strings.Repeat(t.Glyphs.Dot, room-full))
	if text == "" {
		return bar
	}
	return text + " " + bar
}

// toGo is how far the needle has to go yet.
func (v *View) toGo() string {
	a := v.Watch
	left, u := math.Abs(a.Left()), v.unit()
	if a.Progress == gauge.Astray {
		left = math.Abs(a.Value - v.reach())
	} else if n := a.Turns(); n > 0 {
		of := "turns"
		if n == 1 {
			of = "turn"
		}
		return fmt.Sprintf("%d %s of the needle and %s %v", n, of, v.length(left-float64(n)*a.Revolution), u)
	}
	return v.length(left) + " " + u.String()
}
