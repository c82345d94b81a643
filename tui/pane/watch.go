package pane

import (
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/tui/plot"
)

// Watching reports whether a wind goes by the live needle: it has been seen where the wind begins, and nothing else stands before it.
func (v *View) Watching() bool {
	return v.Watch != nil && v.Watch.Progress != gauge.Unseen && v.live() && v.Entry == "" && !v.Page && !v.Lost && v.Note == "" &&
		v.Asked == "" && !v.Listing
}

// live reports whether the cable indicator shows anything.
func (v *View) live() bool { return v.Moment.Has && v.Moment.Lost == "" && !v.Moment.Silent }

// hands are the ways that the hand turns: to wind off, and to come up.
func (v *View) hands() (off, up slide.Turn) {
	moves := v.Prompt.Wind.Moves
	if len(moves) == 0 { // a journal may hold such a wind
		return slide.Anticlockwise, slide.Clockwise
	}
	up = moves[len(moves)-1].Turn
	return -up, up
}

// hand is the way that it turns now.
func (v *View) hand() slide.Turn {
	off, up := v.hands()
	if v.Watch.Off() {
		return off
	}
	return up
}

// sign is the arrow of a way.
func (v *View) sign(t slide.Turn) string {
	if t == slide.Clockwise {
		return v.Theme.Glyphs.Clockwise
	}
	return v.Theme.Glyphs.Anticlockwise
}

// ways are what is left to be done of the wind in hand, with the ways in words or as arrows: no movement is left out.
func (v *View) ways(turn func(slide.Turn) string) (all, off, up string) {
	a := v.Watch
	o, u := v.hands()
	off, up = turn(o)+" past "+v.reading(a.Back), turn(u)+" to "+v.reading(a.Goal)
	if a.Off() {
		return off + ", then " + up, off, up
	}
	return up, off, up
}

// watchWords say where the wind in hand stands and what comes next, in ever shorter forms.
func (v *View) watchWords() []string {
	name := SlideName(v.Prompt.Wind.Slide.Name)
	all, off, up := v.ways(slide.Turn.String)
	long := v.progressWords(all, off, up)[0]
	all, off, up = v.ways(v.sign)
	short := v.progressWords(all, off, up)
	return []string{name + " slide: " + long, name + ": " + long, name + ": " + short[1], name + ": " + short[2], short[2]}
}

// progressWords are those without the slide's name, at length, short, and as short as can be.
func (v *View) progressWords(all, off, up string) [3]string {
	a, g, u := v.Watch, v.Theme.Glyphs, " "+v.unit().String()
	by := v.length(math.Abs(a.Beside()))
	short, again := strings.Replace(all, ", then ", ", ", 1), off+", "+up
	switch a.Progress {
	case gauge.Astray:
		return [3]string{
			g.Cross + " stop: the needle goes the other way. Another handle, the wrong way, or the cable indicator's sign " +
				"(trammel gauge: pressed)?",
			g.Cross + " wrong way: another handle, or the sign (trammel gauge: pressed)?",
			g.Cross + " wrong way",
		}
	case gauge.Turning:
		return [3]string{"far enough, now " + up, "far enough: " + up, up}
	case gauge.Close:
		if v.Moment.Steady {
			return [3]string{"stands " + by + u + " short: on " + up, by + " short: " + up, up}
		}
		return [3]string{"close, slowly: " + up, "close: " + up, up}
	case gauge.There:
		return [3]string{"at " + v.reading(a.Goal) + ": stop, hand off until it stands still", "stop, hand off", "stop"}
	case gauge.Stands:
		if a.Locks > 0 {
			return [3]string{
				g.Tick + " there, and standing still: lock it under the needle, then Enter",
				g.Tick + " there: lock it, Enter",
				"lock it, Enter",
			}
		}
		return [3]string{g.Tick + " there, and standing still: Enter", g.Tick + " there: Enter", "Enter"}
	case gauge.Moved:
		return [3]string{g.Query + " it stood there, and is off by " + by + u + ": by the lock? then Enter; else " + off + ", then " + up,
			g.Query + " off by " + by + ": the lock? Enter; or " + again, "lock? Enter; " + again}
	case gauge.Over:
		if a.Beside() > 0 {
			return [3]string{g.Cross + " too far by " + by + u + ": " + off + " again, then " + up + ", for the backlash",
				g.Cross + " " + by + " too far: " + again, g.Cross + " too far: " + again}
		}
		return [3]string{
			g.Cross + " it moved unseen: " + off + ", then " + up + ", for the backlash",
			g.Cross + " moved unseen: " + again,
			again,
		}
	case gauge.Beyond:
		return [3]string{
			g.Cross + " the needle is off the dial: wind back, the other way",
			g.Cross + " off the dial: wind back",
			"wind back",
		}
	case gauge.Unseen, gauge.Ready, gauge.Outward, gauge.Coming:
	}
	return [3]string{all, short, short}
}

// ParkedWays are what is to be done of the wind in hand once Enter has said that the head is parked.
func (v *View) ParkedWays() string {
	a, then := *v.Watch, *v
	a.Park()
	then.Watch = &a
	all, _, _ := then.ways(slide.Turn.String)
	return all
}

// Parked is where the head is parked, or the table.
func (v *View) Parked() string { return strings.TrimPrefix(v.parkForms()[0], "park at ") }

// WatchRefuses says why the wind in hand is not confirmed, and what it still wants; empty where it is, or its needle has only to come
// to rest.
func (v *View) WatchRefuses() (because, hint string) {
	all, _, _ := v.ways(slide.Turn.String)
	because, hint = lines.WatchRefuses(&v.State, v.Watch, all, v.unit())
	return v.Num(because), v.Num(hint)
}

// watchNow says in large letters what the hand does with the reading that it winds to.
func (v *View) watchNow(arrow bool) string {
	switch v.Watch.Progress {
	case gauge.There:
		return "stop"
	case gauge.Stands:
		if v.Watch.Locks > 0 {
			return "lock, Enter"
		}
		return "Enter"
	case gauge.Moved:
		return "Enter?"
	case gauge.Beyond:
		return "back"
	case gauge.Astray: // to where it began
		return "go back"
	case gauge.Unseen, gauge.Ready, gauge.Outward, gauge.Turning, gauge.Coming, gauge.Close, gauge.Over:
	}
	if arrow {
		return v.sign(v.hand())
	}
	return v.hand().String()
}

// watchNext is the bottom zone of a wind by the live needle.
func watchNext(v *View, w, h int) Bottom {
	z := &zone{theme: v.Theme, w: w, h: h, small: Small(w, h)}
	if z.most = h - Framed - leastBody; z.small {
		z.most = max(1, h-1)
	}
	z.said = statusLines(v, w, max(1, z.most/3))
	if z.small && !v.Alarm { // the needle goes before what was said
		z.said = nil
	}
	for rows := 2; rows >= 0; rows-- {
		if b, ok := z.watched(v, rows); ok {
			return b
		}
	}
	return z.watchedSmall(v)
}

// watchWords are the words in so many rows at most: what they say at length, where that fits.
func (z *zone) watchWords(v *View, rows int) []string {
	forms := v.watchWords()
	for _, f := range forms {
		if all := wrap(v.Num(f), z.w, 2); len(all) <= rows {
			return all
		}
	}
	return wrap(v.Num(forms[len(forms)-1]), z.w, 2)
}

// watched tells it in large letters, with the bar between the two figures, and the words in so many rows above them.
func (z *zone) watched(v *View, rows int) (Bottom, bool) {
	words := z.watchWords(v, rows)
	between := v.closing(v.toGo(), z.w)
	if rows == 0 { // the words stand between the figures
		text := v.Num(first(z.w-leastBar, v.watchWords()))
		if words = nil; ansi.StringWidth(text) > z.w {
			return Bottom{}, false
		}
		between = v.closing(text, z.w)
	}
	others := len(words) + len(z.said) + 1
	now, reach := v.figures()
	big := func(s string) string { return strings.ReplaceAll(s, "-", "−") } // which is as wide as a plus
	as := v.watchedAs()
	draw := func(shown string, arrow bool) ([]string, int) {
		forms := [][]string{{big(now) + shown, big(now)}, {big(reach) + " " + v.watchNow(arrow)}}
		if arrow && as == stopNow {
			forms = [][]string{{big(now)}, {strings.TrimSpace(as)}}
		}
		text, tall := plot.Big(forms, z.w, z.room(2, others), z.theme.Plain)
		return strings.Split(text, "\n"), tall
	}
	arrow := false
	drawn, tall := draw(as, arrow)
	if tall < z.least() {
		arrow = true
		drawn, tall = draw(as, arrow)
	}
	if tall < z.least() {
		return Bottom{}, false
	}
	at := len(drawn) - tall                           // no letter of the lower line hangs below it
	if z.small && !v.besideLetters(drawn[:at], z.w) { // elsewhere the list has it
		if drawn, tall = draw("", arrow); !v.besideLetters(drawn[:len(drawn)-tall], z.w) {
			return Bottom{}, false
		}
		at = len(drawn) - tall
	}
	for i, l := range drawn {
		drawn[i] = z.theme.Big.Render(l)
	}
	return Bottom{Pieces: 1, rows: slices.Concat(z.strong(words), drawn[:at], []string{between}, drawn[at:], z.said)}, true
}

// besideLetters writes behind large letters where the head is parked, and the eye that a turn is told with, in one row to three; false
// where there is no room.
func (v *View) besideLetters(letters []string, w int) bool {
	wide := 0
	for i, l := range letters {
		letters[i] = strings.TrimRight(l, " ")
		wide = max(wide, ansi.StringWidth(letters[i]))
	}
	for _, words := range v.parkedBeside() {
		takes := 0
		for _, l := range words {
			takes = max(takes, ansi.StringWidth(l))
		}
		if len(words) > len(letters) || wide+2+takes > w {
			continue
		}
		for i, l := range words {
			letters[i] += strings.Repeat(" ", w-takes-ansi.StringWidth(letters[i])) + l
		}
		return true
	}
	return false
}

// parkedBeside are the words for that, in ever more rows.
func (v *View) parkedBeside() [][]string {
	park := v.parkForms()
	return [][]string{{park[0] + ", " + record.FacingHandle}, {park[0], record.FacingHandle}, {park[0], eyeInTwo[0], eyeInTwo[1]},
		{park[1], eyeInTwo[0], eyeInTwo[1]}}
}

// eyeInTwo is the eye in two rows.
var eyeInTwo = strings.SplitN(record.FacingHandle, " ", 2)

// strong are words that lead to what is to be done.
func (z *zone) strong(words []string) []string {
	for i, l := range words {
		words[i] = z.theme.Strong.Render(Clip(z.theme, l, z.w))
	}
	return words
}

// watchedSmall tells it in letters of the usual size.
func (z *zone) watchedSmall(v *View) Bottom {
	now, reach := v.figures()
	now, reach = v.Num(now), v.Num(reach)
	free := max(1, z.most-len(z.said))
	park := v.parkForms()
	now += v.watchedAs()
	shown := first(z.w, []string{now + ", " + park[0] + ", " + record.FacingHandle, now + ", " + park[0], now + ", " + park[1], now})
	turn := reach + " " + v.watchNow(false)
	if !strings.Contains(shown, record.FacingHandle) { // the turn is told with its eye
		turn = first(z.w, []string{turn + ", " + record.FacingHandle, turn})
	}
	figures := []string{shown, v.closing(v.toGo(), z.w), turn}
	if free < len(figures)+1 {
		figures = []string{now + ", " + reach + " " + v.watchNow(free < 2)}
		if free > 1 {
			figures = append(figures, park[0])
		}
	}
	for i := range figures {
		figures[i] = z.theme.Big.Render(Clip(z.theme, figures[i], z.w))
	}
	var words []string
	if left := free - len(figures); left > 0 {
		words = told(z.theme, z.theme.Strong, v.Num(first(z.w, v.watchWords())), z.w, left)
	}
	return Bottom{Pieces: 1, rows: slices.Concat(words, figures, z.said)}
}
