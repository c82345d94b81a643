package pane

import (
	"fmt"
	"strings"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// loadAction takes up a slide's backlash.
func loadAction(v *View) action {
	name := SlideName(v.Prompt.Load.Slide.Name)
	words := []string{
		fmt.Sprintf("take up the %s slide's backlash: %sback off, then come up; Enter when done", name, v.turnFirst()),
		fmt.Sprintf("take up %s backlash: %sback off, come up; Enter", name, v.turnFirst()),
		fmt.Sprintf("%s: %sback off, come up; Enter: done", name, v.turnFirst()),
	}
	return action{words: words, parts: append(v.tableFirst(name), handMoves(v)...), moves: name, aside: record.FacingHandle, answer: "Enter: done"}
}

// windAction tells a wind, as it is taken, behind what the hand sees to before it.
func windAction(v *View) action {
	var a action
	switch v.Prompt.Wind.How {
	case session.ByTap:
		a = tapAction(v)
	case session.UnderNeedle:
		a = parkedAction(v)
	case session.ByCoordinate:
		a = goAction(v)
	case session.ByCollar:
		a = collarAction(v)
	}
	if v.Prompt.Wind.Reads { // nothing is moved yet
		return a
	}
	if first := lines.First(&v.State); len(first) > 0 {
		var before []deed
		for _, f := range first {
			before = append(before, deed{alone: []string{f}, two: halves(f)})
		}
		a.parts = append(before, a.parts...)
		for i, words := range a.words {
			a.words[i] = lines.FirstWords(&v.State) + "; " + words
		}
	}
	if last := lines.LastWords(&v.State); last != "" {
		a.parts = append(a.parts, deed{alone: []string{last}})
	}
	return woundAlready(v, a)
}

// woundAlready asks first whether the wind that is told has been made, where it was confirmed and taken back: no movement stands in
// large letters then, which a hand would follow a second time.
func woundAlready(v *View, a action) action {
	ask := lines.Rewound(&v.State, v.unit())
	if ask == nil {
		return a
	}
	so := ask[1]
	if v.State.WoundAlready() {
		so = "Enter, turn nothing"
	}
	a.asks = []deed{{alone: []string{v.text(ask[0])}}, {alone: []string{so}}}
	a.parts = append([]deed{{alone: []string{v.text(ask[0]) + " " + so}}, {alone: []string{"not wound yet:"}}}, a.parts...)
	for i, words := range a.words {
		a.words[i] = "taken back: already wound? " + so + "; not wound yet: " + words
	}
	return a
}

// lastWords are what the hand does last, in the words of a wind.
func (v *View) lastWords() string {
	if last := lines.LastWords(&v.State); last != "" {
		return ", " + last
	}
	return ""
}

// halves breaks a text in two lines: at its comma, or else between its words.
func halves(s string) [][]string {
	if head, tail, two := strings.Cut(s, ", "); two {
		return [][]string{{head}, {tail}}
	}
	words := strings.Fields(s)
	if len(words) < 2 {
		return nil
	}
	n := (len(words) + 1) / 2
	return [][]string{{strings.Join(words[:n], " ")}, {strings.Join(words[n:], " ")}}
}

// collarAction tells a wind that is counted on the collar.
func collarAction(v *View) action {
	p := v.Prompt
	name, to := SlideName(p.Wind.Slide.Name), record.Divisions(p.Wind.Slide.ShownCollar(p.Wind.Told.Wind.CollarTo))
	first, last := v.turnFirst(), v.lastWords()
	words := []string{
		fmt.Sprintf("%s slide: %scollar to 0, wind, collar ends at %s%s; Enter when done", name, first, to, last),
		fmt.Sprintf("%s: %scollar 0, ends at %s%s; Enter", name, first, to, last),
		fmt.Sprintf("%s: %scollar 0 to %s%s; Enter: done", name, first, to, last),
	}
	begin, moves := "collar to 0", handMoves(v)
	switch from, to, _, figured := lines.Figures(&v.State, &p.Wind); {
	case p.Wind.Reads:
		a := big([]string{fmt.Sprintf("%s slide: type what its collar shows now, in divisions", name),
			fmt.Sprintf("%s: type what its collar shows", name)}, name+" collar?")
		a.answer = "type the figure"
		return a
	case figured:
		words = []string{
			fmt.Sprintf("%s slide: %sstart at %s on the collar, wind, end at %s%s; Enter when done", name, first, from, to, last),
			fmt.Sprintf("%s: %scollar from %s to %s%s; Enter", name, first, from, to, last),
			fmt.Sprintf("%s: %s%s to %s%s; Enter: done", name, first, from, to, last),
		}
		begin = "collar at " + from
		for i, stop := range lines.Stops(&v.State, &p.Wind) {
			shown := p.Wind.Slide.Shown(p.Wind.Moves[i])
			moves[i] = turning(name, shown, record.Amount(shown)+" to "+stop)
		}
	}
	parts := append(v.tableFirst(name), before(name, begin))
	return action{words: words, parts: append(parts, moves...), moves: name, aside: record.FacingHandle, answer: "Enter: done"}
}

// before is what is to be done before a slide is moved, in ever shorter forms.
func before(name string, forms ...string) deed {
	d := deed{under: forms, two: [][]string{{name}, forms}, unnamed: [][]string{forms}}
	for _, f := range forms {
		d.alone = append(d.alone, name+": "+f)
	}
	return d
}

// tableFirst is where the table has to stand before the handwheel of a slide can be reached.
func (v *View) tableFirst(name string) []deed {
	if v.turnFirst() == "" {
		return nil
	}
	return []deed{before(name, v.tableForms()...)}
}

// parkedAction tells a wind under the needle: where to park, past which reading to turn back, and the reading to stop at.
func parkedAction(v *View) action {
	p, k := v.Prompt, v.Prompt.Wind.Told.Park
	name, goal, parkAt := SlideName(p.Wind.Slide.Name), v.reading(k.Goal), "park at"
	if q := p.Wind.Which; q != nil {
		return big([]string{
			fmt.Sprintf("%s: station %d, or where %s stopped? * 1 the station, Enter twice: stopped there", v.reading(q.Reading), q.Station,
				name),
			fmt.Sprintf("station %d (* 1), or %s stopped there (Enter twice)?", q.Station, name),
			fmt.Sprintf("* 1 station %d, Enter twice: stopped", q.Station),
		}, fmt.Sprintf("station %d?", q.Station))
	}
	if v.turned() {
		parkAt = "park the table at"
	}
	lock := ""
	if p.Wind.Slide.Lock {
		lock = "lock, "
	}
	counts, short := "", ""
	if read := lines.DialWords(&v.State, v.unit()); read != v.unit().String() { // what is typed counts otherwise than what is told
		counts, short = " ("+read+")", " (thousandths)"
	}
	words := []string{
		fmt.Sprintf("%s slide: %s %s, wind until the needle shows %s, %stype what it shows%s", name, parkAt, v.park(), goal, lock, counts),
		fmt.Sprintf("%s: %s %s, wind to %s, %stype what it shows%s", name, parkAt, v.park(), goal, lock, counts),
		fmt.Sprintf("%s: %s %s, wind to %s, %stype it%s, or Enter: done", name, parkAt, v.park(), goal, lock, short),
		fmt.Sprintf("%s at %s to %s, %stype it%s, or Enter: done", name, v.park(), goal, lock, short),
	}
	answer := "type the needle, or Enter: done"
	if v.Watch != nil && v.live() { // which nobody types
		answer = "Enter: parked"
		words = []string{
			fmt.Sprintf("%s slide: %s %s, wind until the needle shows %s, %sthen Enter", name, parkAt, v.park(), goal, lock),
			fmt.Sprintf("%s: %s %s, wind to %s, %sEnter", name, parkAt, v.park(), goal, lock),
		}
	}
	return action{words: words, parts: append([]deed{before(name, v.parkForms()...)}, v.parkedMoves(name)...), moves: name,
		where: v.parkForms()[1], aside: v.nowWords() + "; " + record.FacingHandle, answer: answer}
}

// nowWords say what the needle shows where the head is parked: beside one that is seen, what it should.
func (v *View) nowWords() string {
	k := v.Prompt.Wind.Told.Park
	if v.Watch != nil && v.live() {
		return "there: " + v.reading(k.Now)
	}
	return "needle now " + v.reading(k.Now)
}

// tableForms say by its ring where the table has to stand.
func (v *View) tableForms() []string {
	ring := "ring " + v.degrees(v.Prompt.Position().Ring)
	return []string{"table to " + ring, ring}
}

// parkForms say by the ring that is read where the head, or the table, stands while a slide is wound.
func (v *View) parkForms() []string {
	if v.turned() {
		return v.tableForms()
	}
	b := v.Prompt.Wind.Told.Park.Bearing
	ring, plain := v.State.Set.Machine.Head.Shows(b), b.Degrees360()
	switch {
	case v.byRing() || v.Bearings == session.AsUsual && ring != plain:
		return []string{"park at ring " + v.degrees(ring), "ring " + v.degrees(ring)}
	case v.Bearings == session.ByFrame:
		return []string{"park at bearing " + v.degrees(plain), "bearing " + v.degrees(plain)}
	}
	return []string{"park at " + v.degrees(plain), "park " + v.degrees(plain)}
}

// parkedMoves are the ways to turn under the needle, each up to its reading: the first of two backs off, the last comes up.
func (v *View) parkedMoves(name string) (parts []deed) {
	k, moves := v.Prompt.Wind.Told.Park, v.Prompt.Wind.Moves
	if k.Past != nil && len(moves) > 1 {
		parts = append(parts, turning(name, moves[0], "to "+v.reading(*k.Past)))
	}
	if n := len(moves); n > 0 {
		parts = append(parts, turning(name, moves[n-1], "to "+v.reading(k.Goal)))
	}
	return parts
}

// goAction sends a slide to a coordinate.
func goAction(v *View) action {
	p := v.Prompt
	name, to := SlideName(p.Wind.Slide.Name), v.coordinate(p.Wind.Goal)
	how, parts := "wind to", handMoves(v)
	if p.Wind.Zero {
		how = "readout to 0, wind to"
	}
	if !p.Wind.Slide.Readout {
		how = "by the collar to"
	}
	last := v.lastWords()
	if n := len(p.Wind.Moves); n > 0 {
		m := p.Wind.Moves[n-1]
		last = ", last " + m.Turn.String() + last
		parts[n-1] = turning(name, m, "to "+to)
	} else {
		parts = []deed{{alone: []string{name + " to " + to}}}
	}
	if p.Wind.Zero {
		parts = append([]deed{before(name, "readout to 0")}, parts...)
	}
	return action{words: []string{
		fmt.Sprintf("%s slide: %s %s %v%s; type where it stands, or Enter", name, how, to, v.unit(), last),
		fmt.Sprintf("%s: %s %s%s; type it, or Enter", name, how, to, last),
		fmt.Sprintf("%s to %s%s", name, to, last),
	}, parts: parts, moves: name, aside: record.FacingHandle, answer: "type where it is, or Enter: done"}
}

// figureForms say a figure in large letters: with its doubt and unit, with its doubt, alone; and the word behind it.
func (v *View) figureForms(name string, x indicator.Value, word string) []string {
	val, unc := record.Format(v.unit(), x)
	if word != "" {
		word = " " + word
	}
	val = name + " " + v.Num(val)
	if unc == "" {
		return []string{val + " " + v.unit().String() + word, val + word}
	}
	doubt := " " + v.Theme.Glyphs.PlusMinus + unc
	return []string{val + doubt + " " + v.unit().String() + word, val + doubt + word, val + word}
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
