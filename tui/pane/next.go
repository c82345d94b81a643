package pane

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/tui/plot"
	"example.org/trammel/tui/theme"
)

// NextHeight is how many rows the action line takes where there is room: words, four rows of
// large letters, the status.
const NextHeight = 6

// Next is the bottom zone: the one action now, in letters as large as fit, with what has been
// typed, and the last thing said.
func Next(v *View, w, h int) string {
	t := v.Theme
	words, big := action(v)
	switch {
	case v.Lost:
		words, big = []string{"nothing more is taken: mend the disk, then y records it again; q quits", "mend the disk, y again; q quits"},
			[]string{"not recorded"}
	case v.Listing:
		words = []string{"type a number, then Enter; * or / closes the list", "number, Enter; * closes"}
		big = []string{"number " + v.Listed + "_", v.Listed + "_"}
	case v.Page:
		words, big = []string{"Enter goes on"}, []string{"Enter: go on"}
	}
	rows := []string{Clip(t, first(w, words), w)}
	said := statusLines(v, w, h-NextHeight+1)
	if h >= NextHeight {
		text, ok := plot.Big([][]string{big}, w, h-1-len(said), t.Plain)
		if !ok && !v.Page && !v.Lost { // the words above name the slide
			text, ok = plot.Big([][]string{{v.shortest()}}, w, h-1-len(said), t.Plain)
		}
		if ok {
			for _, l := range strings.Split(text, "\n") {
				rows = append(rows, t.Big.Render(l))
			}
		} else {
			rows = append(rows, "", t.Big.Render(Clip(t, first(w, indented(big)), w)))
		}
	} else if h > 2 {
		rows = append(rows, t.Big.Render(Clip(t, first(w, big), w)))
	}
	for len(rows) < h-len(said) {
		rows = append(rows, "")
	}
	rows = append(rows[:max(1, h-len(said))], said...)
	return Box(t, strings.Join(rows, "\n"), w, h)
}

func indented(texts []string) []string {
	out := make([]string, len(texts))
	for i, s := range texts {
		out[i] = "  " + s
	}
	return out
}

// mostStatus is how many rows the last thing said may take.
const mostStatus = 4

// statusLines are the last thing said, broken between words where there are rows for it, else in one line.
func statusLines(v *View, w, most int) []string {
	if v.Note != "" || v.Status == "" {
		return []string{status(v, w)}
	}
	t, said, style := v.Theme, v.text(v.Status), v.Theme.Dim
	if v.Alarm {
		said, style = t.Glyphs.Cross+" "+said, t.Bad
	}
	out := wrap(said, w, 2)
	if len(out) < 2 || len(out) > min(most, mostStatus) {
		return []string{status(v, w)}
	}
	for i, l := range out {
		if ansi.StringWidth(l) > w { // a word longer than a row is cut in any case
			return []string{status(v, w)}
		}
		out[i] = style.Render(l)
	}
	return out
}

func status(v *View, w int) string {
	t := v.Theme
	if v.Note != "" {
		return Clip(t, v.Note, w)
	}
	if v.Status == "" && v.Prompt.Reading.Again && !v.Page && !v.Lost {
		return Clip(t, first(w, doubtKeys(v)), w)
	}
	if v.Alarm {
		return t.Bad.Render(clause(t, t.Glyphs.Cross+" "+v.text(v.Status), w))
	}
	return t.Dim.Render(clause(t, v.text(v.Status), w))
}

// clause cuts a sentence that is too long behind one of its clauses, where it can: half a figure
// would be worse than none.
func clause(t theme.Theme, s string, w int) string {
	if ansi.StringWidth(s) <= w {
		return s
	}
	for cut := s; ; {
		i := max(strings.LastIndex(cut, ", "), strings.LastIndex(cut, "; "))
		if i < 0 {
			return Clip(t, s, w)
		}
		cut = cut[:i]
		if whole := cut + t.Glyphs.Ellipsis; ansi.StringWidth(whole) <= w {
			return whole
		}
	}
}

// action returns the action in words and in large letters, both in ever shorter forms.
func action(v *View) (words, big []string) {
	p := v.Prompt
	switch p.Waits {
	case session.ForReading:
		if p.Reading.Touch {
			return pointAction(v)
		}
		return readingAction(v)
	case session.ForLoad:
		name := SlideName(p.Load.Slide.Name)
		return []string{
			fmt.Sprintf("take up the %s slide's backlash: %sback off, then come up; Enter when done", name, v.turnFirst()),
			fmt.Sprintf("take up %s backlash: %sback off, come up; Enter", name, v.turnFirst()),
			fmt.Sprintf("%s backlash: %sback off, come up", name, v.turnFirst()),
		}, v.windForms(name)
	case session.ForChore:
		return choreAction(v)
	case session.ForDrift:
		by := v.reading(p.Drift.Change)
		return []string{
			fmt.Sprintf("the readings drifted by %s %v: e takes it out, k leaves it in, r sweeps again", by, v.unit()),
			fmt.Sprintf("drifted by %s %v: e take out, k leave, r again", by, v.unit()),
		}, []string{"drifted " + by, "drifted"}
	case session.ForWind:
		switch p.Wind.How {
		case session.ByTap:
			return tapAction(v)
		case session.UnderNeedle:
			return parkedAction(v)
		case session.ByCoordinate:
			return goAction(v)
		case session.ByCollar:
		}
		name, to := SlideName(p.Wind.Slide.Name), record.Divisions(p.Wind.Slide.ShownCollar(p.Wind.Told.Wind.CollarTo))
		return []string{
			fmt.Sprintf("%s slide: %scollar to 0, wind, collar ends at %s; Enter when done", name, v.turnFirst(), to),
			fmt.Sprintf("%s: %scollar 0, ends at %s; Enter", name, v.turnFirst(), to),
			fmt.Sprintf("%s: %scollar 0 to %s", name, v.turnFirst(), to),
		}, v.windForms(name)
	case session.ForAccept:
		return settledAction(v)
	case session.ForSize:
		return sizeAction(v)
	case session.ForCheck:
		return lines.CheckWords(&v.State, &p.Check), checkForms(v, p.Check)
	case session.ForBack:
		return backAction(v)
	case session.ForAgain:
		return []string{
			"these readings give no circle: undo the wrong one, or r to sweep again",
			"no circle: / undo, or r to sweep again",
		}, []string{"sweep again", "again"}
	case session.ForNothing:
	}
	dry := lines.DryWords(&v.State)
	return []string{
		"accepted; indicator out, cutter in, spindle free, one " + dry + " through the arc",
		"indicator out, cutter in, spindle free, one " + dry,
		"indicator out, one " + dry,
	}, []string{"accepted"}
}

func readingAction(v *View) (words, big []string) {
	p := v.Prompt
	if p.Reading.Again {
		return doubtAction(v)
	}
	at := v.degrees(p.Reading.Bearing.Degrees360())
	what, deg, ring := "station ", at, ""
	do := "swing to "
	if v.turned() {
		do = "turn the table to "
	}
	if v.byRing() {
		what, deg, at = "ring ", v.degrees(p.Reading.Ring), v.ring()
	} else if v.Bearings == session.ByFrame {
		what, at, ring = "bearing ", "bearing "+at, " (ring "+v.degrees(p.Reading.Ring)+")"
	} else if p.Reading.Ring != p.Reading.Bearing.Degrees360() { // the hand sets what stands on the ring
		what, deg = "ring ", v.degrees(p.Reading.Ring)
		ring = " (ring " + deg + ")"
	}
	words = []string{
		fmt.Sprintf("station %d of %d: %s%s%s, hand off, read the dial (%v)", p.Reading.Station, p.Reading.Of, do, at, ring, v.unit()),
		fmt.Sprintf("%d of %d: %s%s%s, read (%v)", p.Reading.Station, p.Reading.Of, do, at, ring, v.unit()),
	}
	if v.turned() {
		words = append(words, fmt.Sprintf("%d of %d: table to %s (%v)", p.Reading.Station, p.Reading.Of, at, v.unit()))
	}
	if p.Reading.Closing {
		words = []string{
			fmt.Sprintf("closing reading: %s%s%s once more, hand off, read the dial (%v)", do, at, ring, v.unit()),
			fmt.Sprintf("closing reading: %s%s once more (%v)", at, ring, v.unit()),
		}
	}
	if v.Entry != "" {
		typed := v.Num(v.text(v.Entry)) + "_"
		return words, []string{deg + ": " + typed, typed}
	}
	return words, []string{what + deg, deg}
}

// doubtAction asks for a station once more, and says what it may have been.
func doubtAction(v *View) (words, big []string) {
	p, d := v.Prompt, v.Prompt.Reading.Doubt
	may := record.SlipWords(d.Because)
	if d.WouldBe != nil {
		may += " then " + v.reading(*d.WouldBe)
	}
	words = []string{
		fmt.Sprintf("station %d does not fit: %s", p.Reading.Station, may),
		fmt.Sprintf("%d does not fit: %s", p.Reading.Station, may),
		fmt.Sprintf("%d: %s", p.Reading.Station, may),
	}
	if d.WouldBe != nil {
		words = append(words, fmt.Sprintf("%d does not fit: %s?", p.Reading.Station, v.reading(*d.WouldBe)))
	}
	deg := v.degrees(p.Reading.Bearing.Degrees360())
	if v.Bearings == session.ByFrame {
		deg = "bearing " + deg
	} else if v.byRing() || p.Reading.Ring != p.Reading.Bearing.Degrees360() {
		deg = "ring " + v.degrees(p.Reading.Ring)
	}
	if v.Entry != "" {
		typed := v.Num(v.text(v.Entry)) + "_"
		return words, []string{deg + ": " + typed, typed}
	}
	return words, []string{"again " + deg, deg}
}

// doubtKeys says what the hand on the numeric keypad can do about a reading in doubt, in ever
// shorter forms. With a number begun, Enter takes it.
func doubtKeys(v *View) []string {
	switch d := v.Prompt.Reading.Doubt; {
	case v.Prompt.Reading.Touch && v.Entry == "":
		keeps := "touch it again, type x y, or Enter twice keeps it; / undoes"
		if d.WouldBeAt != nil {
			keeps = "touch it again, or * 1 takes the proposed point, or Enter twice keeps it"
		}
		return []string{keeps, "again, or Enter twice keeps it"}
	case v.Prompt.Reading.Touch:
		return []string{"Enter takes it in its place", "Enter takes it"}
	case v.Entry != "":
		return []string{"Enter takes it in place of " + v.DoubtedReading(), "Enter takes it"}
	case d.WouldBe != nil:
		return []string{
			fmt.Sprintf("type it again, or * 1 takes %s, or Enter twice keeps %s; / undoes", v.reading(*d.WouldBe), v.DoubtedReading()),
			fmt.Sprintf("type it again, * 1 takes %s, Enter twice keeps %s", v.reading(*d.WouldBe), v.DoubtedReading()),
			fmt.Sprintf("again, or * 1 %s, or Enter twice", v.reading(*d.WouldBe)),
		}
	}
	return []string{
		fmt.Sprintf("type it again, or Enter twice keeps %s; / undoes", v.DoubtedReading()),
		"again, or Enter twice keeps it",
	}
}

// reading prints a dial reading in the job's unit, with its sign.
func (v *View) reading(mm float64) string {
	return v.Num(geom.FormatSigned(v.unit().From(mm), record.ReadingPlaces(v.job().Dial, v.unit())))
}

// DoubtedReading prints the reading that is in doubt, empty where none is.
func (v *View) DoubtedReading() string {
	n := v.Prompt.Reading.Doubt.Station
	if !v.Prompt.Reading.Again || n < 1 || n > v.State.Sweep.N {
		return ""
	}
	return v.reading(v.State.Sweep.Stations[n-1].Reading)
}

// parkedAction tells a wind under the needle: where to park, and the reading to stop at.
func parkedAction(v *View) (words, big []string) {
	p, k := v.Prompt, v.Prompt.Wind.Told.Park
	name, goal, parkAt := SlideName(p.Wind.Slide.Name), v.reading(k.Goal), "park at"
	if v.turned() {
		parkAt = "park the table at"
	}
	words = []string{
		fmt.Sprintf("%s slide: %s %s, wind until the needle shows %s, type what it shows", name, parkAt, v.park(), goal),
		fmt.Sprintf("%s: %s %s, wind to %s, type what it shows", name, parkAt, v.park(), goal),
		fmt.Sprintf("%s: %s %s, wind to %s", name, parkAt, v.park(), goal),
		fmt.Sprintf("%s at %s to %s", name, v.park(), goal),
	}
	if v.Entry != "" {
		typed := v.Num(v.text(v.Entry)) + "_"
		return words, []string{name + ": " + typed, typed}
	}
	if q := p.Wind.Which; q != nil {
		return []string{
			fmt.Sprintf("%s: station %d, or where %s stopped? * 1 the station, Enter twice: stopped there", v.reading(q.Reading), q.Station,
				name),
			fmt.Sprintf("station %d (* 1), or %s stopped there (Enter twice)?", q.Station, name),
			fmt.Sprintf("* 1 station %d, Enter twice: stopped", q.Station),
		}, []string{fmt.Sprintf("station %d?", q.Station)}
	}
	if k.Past != nil && len(p.Wind.Moves) > 1 {
		return words, []string{
			fmt.Sprintf("%s %s %s  %s %s", name, v.way(p.Wind.Moves[:1]), v.reading(*k.Past), v.way(p.Wind.Moves), goal),
			fmt.Sprintf("%s %s%s %s%s", name, v.way(p.Wind.Moves[:1]), v.reading(*k.Past), v.way(p.Wind.Moves), goal),
		}
	}
	return words, []string{name + " " + v.way(p.Wind.Moves) + " " + goal}
}

// shortest is the wind in hand where nothing longer fits in large letters: the words above name the
// slide.
func (v *View) shortest() string {
	if p := v.Prompt; p.Waits == session.ForWind && p.Wind.How == session.ByTap {
		return v.reading(p.Wind.Told.Park.Goal)
	}
	if p := v.Prompt; p.Waits == session.ForWind && p.Wind.How == session.UnderNeedle {
		return v.way(p.Wind.Moves) + " " + v.reading(p.Wind.Told.Park.Goal)
	}
	return strings.Join(v.movements(""), " ")
}

// park is the bearing of a parked wind, and what the ring shows there if that is something else; of a
// table it is what its ring shows.
func (v *View) park() string {
	if v.byRing() {
		return v.ring()
	}
	if v.turned() {
		return v.ring() + " (bearing " + v.degrees(v.Prompt.Wind.Told.Park.Bearing.Degrees360()) + ")"
	}
	b := v.Prompt.Wind.Told.Park.Bearing
	at := v.degrees(b.Degrees360())
	if ring := v.State.Set.Machine.Head.Shows(b); ring != b.Degrees360() {
		at += " (ring " + v.degrees(ring) + ")"
	}
	return at
}

// way is the sign for the way that the last of some movements turns.
func (v *View) way(moves []slide.Move) string {
	if n := len(moves); n > 0 && moves[n-1].Turn == slide.Clockwise {
		return v.Theme.Glyphs.Clockwise
	}
	return v.Theme.Glyphs.Anticlockwise
}

// windForms are the movements of a slide in ever shorter forms. The name stays in all of them: in
// letters that can be read from afar, a movement without its slide would go to the wrong one.
func (v *View) windForms(name string) []string {
	return []string{
		name + " " + strings.Join(v.movements(" "), " then ") + " div",
		name + " " + strings.Join(v.movements(" "), "  "),
		name + " " + strings.Join(v.movements(""), " "),
	}
}

// movements spells the movements of the load or wind in hand; gap stands behind the arrows.
func (v *View) movements(gap string) []string {
	var out []string
	sl, moves := v.Prompt.Handwheel()
	for _, m := range moves {
		way := v.Theme.Glyphs.Anticlockwise
		if m.Turn == slide.Clockwise {
			way = v.Theme.Glyphs.Clockwise
		}
		out = append(out, way+gap+strings.TrimSuffix(record.Amount(sl.Shown(m)), " div"))
	}
	return out
}
