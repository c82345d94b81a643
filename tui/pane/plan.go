package pane

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/tui/plot"
	"example.org/trammel/tui/theme"
)

// PlanView is everything that the zones of a plan may show. Rows are the elements in the order in which
// they are cut; Chosen is the present row, −1 for none.
type PlanView struct {
	Theme  theme.Theme
	Plan   *record.Plan
	Reach  map[int]Standing // by number; of what is not in it the plan itself knows
	Rows   []int
	Chosen int
	Worry  string // the blend to worry about most, with its figure; empty where nothing is set
	Status string
	Alarm  bool
	Page   bool // a page lies over the work zones
	// Typed is the number of an element that is typed, else empty.
	Typed string
	// Listing is the number that is typed on the list of all that can be done, where that is shown; else empty.
	Listing string
	// Where is where one is with the whole part; nil where nobody asks, or the plan has been turned since.
	Where  *record.Where
	pieces []plot.Piece
}

// Ticks reports whether the chosen element is one that Enter ticks off.
func (v *PlanView) Ticks() bool {
	if a := v.Plan.Arc(v.N()); a != nil && len(v.Plan.Cutters) == 0 && !v.Plan.BeyondTravel(a.N) {
		return false // it wants a cutter to be named, and is swung then
	}
	return v.Where != nil && v.Where.ByHand(v.N()) && v.standing(v.N()) != Ticked
}

// Turned shows the plan with a side of the metal turned, the same row chosen, and says what was done; or, without a
// plan, why it is not turned.
func (v *PlanView) Turned(p *record.Plan, why string) {
	if p == nil {
		v.Status, v.Alarm = why, true
		return
	}
	n := v.N()
	next := NewPlanView(v.Theme, p, v.Reach)
	for i, m := range next.Rows {
		if m == n {
			next.Chosen = i
		}
	}
	next.Worry, next.Page = v.Worry, v.Page
	next.Status = why
	*v = next
}

// NewPlanView shows a plan, with the first arc chosen that is to be set, else one that cannot be; none where all are set.
func NewPlanView(t theme.Theme, p *record.Plan, reach map[int]Standing) PlanView {
	v := PlanView{Theme: t, Plan: p, Reach: reach, Rows: p.Worked()}
	for i := range p.Arcs {
		v.pieces = append(v.pieces, plot.Piece{N: p.Arcs[i].N, Element: p.Arcs[i].Element()})
	}
	for i := range p.Lines {
		v.pieces = append(v.pieces, plot.Piece{N: p.Lines[i].N, Element: p.Lines[i].Element()})
	}
	for i := range p.Slots {
		v.pieces = append(v.pieces, plot.Piece{N: p.Slots[i].N, Element: p.Slots[i].Element()})
	}
	v.Chosen = v.next()
	if v.Chosen < 0 && !v.allSet() {
		v.Chosen = max(0, slices.IndexFunc(v.Rows, func(n int) bool { return v.standing(n) == Trouble && !v.atOnce(n) }))
	}
	return v
}

// N is the number of the chosen element.
func (v *PlanView) N() int {
	if v.Chosen < 0 || v.Chosen >= len(v.Rows) {
		return 0
	}
	return v.Rows[v.Chosen]
}

// Why says why the chosen element cannot be set; empty where it can.
func (v *PlanView) Why() string {
	a := v.Plan.Arc(v.N())
	switch {
	case v.None():
		return ""
	case v.Ticks():
		return ""
	case v.standing(v.N()) == Ticked:
		return fmt.Sprintf("element %d is done", v.N())
	case v.Plan.Mill(v.N()) != nil:
		return "what stands higher is milled off by the slides, and not set"
	case a == nil:
		return "a straight is cut by a slide, and not set"
	case v.atOnce(a.N):
		return fmt.Sprintf("arc %d is made by the one pass of slot %d", a.N, a.Slot)
	case math.IsNaN(float64(a.Swing)) && v.Plan.BeyondTravel(a.N):
		return fmt.Sprintf("arc %d lies beyond the slide's travel", a.N)
	case math.IsNaN(float64(a.Swing)):
		return fmt.Sprintf("arc %d has no swing radius: * and name a cutter that can do it", a.N)
	}
	if v.Plan.Gouges(a.N) {
		return record.GougesWords
	}
	if v.Plan.Spoils(a.N) {
		return fmt.Sprintf("nobody has said where the metal of arc %d is: p says it", a.N)
	}
	return ""
}

// standing is how far element n is.
func (v *PlanView) standing(n int) Standing {
	if s, ok := v.Reach[n]; ok {
		return s
	}
	a := v.Plan.Arc(n)
	if a != nil && math.IsNaN(float64(a.Swing)) {
		return Trouble
	}
	if v.Plan.Spoils(n) {
		return Trouble
	}
	return ToDo
}

// next is the row of the arc that is to be set next, or of what is milled off ahead of it; −1 where none is.
func (v *PlanView) next() int {
	for i, n := range v.Rows {
		if v.Plan.Mill(n) != nil && v.isNext(n) {
			return i
		}
		if s := v.standing(n); v.Plan.Arc(n) != nil && (s == ToDo || s == Begun) {
			return i
		}
	}
	return -1
}

// word is the standing of a row, as a sign and a word.
func (v *PlanView) word(row int) string {
	t, g := v.Theme, v.Theme.Glyphs
	n := v.Rows[row]
	s := v.standing(n)
	switch {
	case s == SetUp:
		return t.Good.Render(g.Tick + " set")
	case s == Ticked:
		return t.Good.Render(g.Tick + " done")
	case s == BeenCut:
		return t.Good.Render(g.Bar + " cut")
	case s == Checked:
		return t.Good.Render(g.Tick + " checked")
	case s == Missed:
		return t.Bad.Render(g.Cross + " out")
	case s == Begun:
		return t.Doubt.Render(g.Query + " begun")
	case s == Trouble:
		return t.Bad.Render(g.Cross + " problem")
	case row == v.next():
		return t.Now.Render(g.Arrow + " next")
	case v.Plan.Mill(n) != nil:
		return t.Dim.Render("milling")
	case v.Plan.Arc(n) == nil:
		return t.Dim.Render("straight")
	}
	return g.Dot + " to do"
}

// PlanAim is the top line: the part, and how much of it is set.
func PlanAim(v *PlanView, w int) string {
	t, dot := v.Theme, " "+v.Theme.Glyphs.Dot+" "
	set, swung := 0, v.Plan.Swung()
	for _, n := range swung {
		if v.standing(n).done() {
			set++
		}
	}
	name := printable(v.Plan.Part)
	done := fmt.Sprintf("%d of %d arcs set", set, len(swung))
	settings := "1 setting"
	if n := len(v.Plan.Groups); n != 1 {
		settings = fmt.Sprintf("%d settings", n)
	}
	return t.Strong.Render(Clip(t, first(w, []string{
		"plan of " + name + dot + v.Plan.Setup + dot + settings + dot + done + dot + v.Plan.Unit.String(),
		name + dot + settings + dot + done, name + dot + done, done,
	}), w))
}

// PlanWork is the list of elements in the order in which they are cut, and what there is to know of the chosen
// one below it.
func PlanWork(v *PlanView, w, h int) string {
	about := v.about(w)
	room := h - 1 - len(about)
	if least := min(len(v.Rows), max(3, h/3)); room < least { // a little of the list stays; what is known of one comes first
		room = least
	}
	room = max(1, min(room, h-1))
	out := []string{v.Theme.Dim.Render(planRow(v.Theme, w, false, "arc", "swing", "cutter", ""))}
	from := max(0, min(v.Chosen-room/2, len(v.Rows)-room))
	for i := from; i < min(from+room, len(v.Rows)); i++ {
		out = append(out, v.row(i, w))
	}
	return Box(v.Theme, strings.Join(append(out, about...), "\n"), w, h)
}

// planRow sets a row's columns; the cutter goes first where it is narrow.
func planRow(t theme.Theme, w int, chosen bool, n, swing, cutter, word string) string {
	mark := strings.Repeat(" ", ansi.StringWidth(t.Glyphs.RightMark))
	if chosen {
		mark = t.Glyphs.RightMark
	}
	row := mark + pad(n, 4, true) + pad(swing, 10, true)
	if w >= 36 {
		row += pad(cutter, 9, true)
	}
	return row + "   " + word
}

func (v *PlanView) row(i, w int) string {
	n, swing, cutter := v.Rows[i], "", ""
	if a := v.Plan.Arc(n); a != nil {
		swing, cutter = v.num(a.Swing), v.num(a.Cutter)
	} else if l := v.Plan.Line(n); l != nil {
		cutter = v.num(l.Cutter)
	}
	row := planRow(v.Theme, w, i == v.Chosen, fmt.Sprint(n), swing, cutter, v.word(i))
	if i == v.Chosen {
		return v.Theme.Strong.Render(row)
	}
	return row
}

// num prints a length without unit.
func (v *PlanView) num(x record.Number) string {
	return strings.ReplaceAll(v.Plan.Length(x), "-", v.Theme.Glyphs.Minus)
}

// say makes words of a plan fit for the screen.
func (v *PlanView) say(s string) string {
	screen := View{Theme: v.Theme}
	return screen.text(s)
}

// about is what there is to know of the chosen element, wrapped to w.
func (v *PlanView) about(w int) []string {
	if v.None() {
		return append(
			[]string{""},
			wrapped(v.Theme.Text, v.say("every arc is set; one that is to be set again is chosen by its number"), w)...)
	}
	var all []string
	add := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	p, n := v.Plan, v.N()
	if v.Where != nil {
		for _, words := range v.Where.About(n) {
			add("%s", words)
		}
	}
	if p.Spoils(n) { // before a word of how it is cut
		for _, q := range p.ProblemsOf(n) {
			add("%s %s", v.Theme.Glyphs.Cross, q)
		}
	}
	if a := p.Arc(n); a != nil {
		if p.Gouges(n) {
			add("%s", record.GougesWords)
		} else {
			add("%s", a.Run().Brief())
		}
		if s := p.Slot(n); s != nil {
			add("slot: radius %s, width %s, first pass along its centre line", p.Length(a.Radius), p.Length(s.Width))
		} else {
			add("radius %s, %s", p.Length(a.Radius), a.Metal())
		}
		if a.Table != nil {
			add("cross slides to %s", p.At(a.Wind))
		} else {
			add("centre at readout %s %v", p.At(a.Readout), p.Unit)
		}
		if words := p.StepWords(a); words != "" {
			add("%s", words)
		}
		for _, i := range a.InOrder() {
			add("%s: %s", a.EndAt(i), p.EndWords(&a.Ends[i], a.N, a.Swing))
		}
	} else if m := p.Mill(n); m != nil && !v.isNext(n) {
		for _, words := range p.MillWords(m) {
			add("%s", words)
		}
	} else if l := p.Line(n); l != nil && p.MustTurn(l) {
		add("%s", p.LayWords(l))
	} else if l != nil && len(l.Readout) == 2 {
		add("readout %s to %s %v", p.At(l.Readout[0]), p.At(l.Readout[1]), p.Unit)
	}
	if !p.Gouges(n) {
		for _, words := range p.CutWords(n) {
			add("%s", words)
		}
	}
	if !p.Spoils(n) {
		for _, q := range p.ProblemsOf(n) {
			add("%s", q)
		}
	}
	out := []string{""}
	for _, s := range all {
		out = append(out, wrapped(v.Theme.Text, v.say(s), w)...)
	}
	return out
}

// PlanPicture is the outline, the chosen arc heavy, with its centre and the way of the cutter's axis.
func PlanPicture(v *PlanView, w, h int) string {
	p := plot.Plan{Pieces: make([]plot.Piece, len(v.pieces))}
	for i, e := range v.pieces {
		e.Chosen, e.Done = e.N == v.N(), v.standing(e.N).done()
		p.Pieces[i] = e
		if a := v.Plan.Arc(e.N); e.Chosen && a != nil {
			p.Axis = &e.Centre
			if !math.IsNaN(float64(a.Swing)) {
				path := geom.ArcOf(e.Centre, float64(a.Swing), e.From(), e.Turn)
				p.Path = &path
			}
		}
	}
	return Box(v.Theme, plot.Outline(p, w, h, v.Theme), w, h)
}
