package record

import (
	"math"
	"slices"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// Where is where one is with a whole plate: what is done, what comes now and what is changed for it, and what is to come, in the
// order in which it is cut. Lengths are in its unit. It is told by the journals alone.
type Where struct {
	Say  string      `json:"say"`
	Unit geom.Unit   `json:"unit"`
	Part string      `json:"part"`
	Done int         `json:"done"`
	Of   int         `json:"of"`
	Next *WhereNext  `json:"next"` // null where all is done
	List []WhereTask `json:"list"`
	// Ways are there where a number of parts was asked for.
	Ways *PartWays `json:"ways,omitempty"`
	// Brief leaves the elements out of the text: they have been told.
	Brief bool `json:"-"`
}

// WhereTask is one element of the plate.
type WhereTask struct {
	N    int    `json:"n"`
	What string `json:"what"` // arc, slot, straight or milling
	// By is swing or slide: what no swing makes is done by the slides, and ticked off. Why says why no swing makes an arc.
	By    string `json:"by"`
	Why   string `json:"why,omitempty"`
	Layer string `json:"layer"`
	// Round are the bosses that a milling goes round.
	Round []int `json:"round,omitempty"`
	// Setting is which setting of the swing radius serves it, in the order of cutting; 0 for none.
	Setting int `json:"setting"`
	// Stands is done, now or to come; State how far it is: to do, begun, set, cut, checked, out or ticked.
	Stands string `json:"stands"`
	State  string `json:"state"`
	Cutter Number `json:"cutter"`
	Swing  Number `json:"swing"`
	Depth  Number `json:"depth"` // from the top of the stock to the floor of its cut; null where the drawing does not say
	// Centre is where the readout stands over the arc's centre; not known of what no swing makes.
	Centre Place `json:"centre"`
	// Measured is the radius of the finished arc as it was measured, null where it was not; its doubt is null where nobody has said
	// how well that was measured. Verdict is what it proves.
	Measured *Value `json:"measured"`
	Verdict  string `json:"verdict,omitempty"`
	Journal  string `json:"journal,omitempty"`
}

// WhereNext is what comes now. A change is null where nothing is changed.
type WhereNext struct {
	N    int    `json:"n"`
	What string `json:"what"`
	By   string `json:"by"`
	// Why says why no setting makes an arc.
	Why string `json:"why,omitempty"`
	// Do says how a milling is done.
	Do string `json:"do,omitempty"`
	// Begun: a setting of it is open, or its steps are not done.
	Begun bool `json:"begun"`
	// SameSetting: nothing is changed, it is cut as the one before was.
	SameSetting bool         `json:"same_setting"`
	Cutter      *WhereChange `json:"cutter"`
	Swing       *WhereChange `json:"swing"`
	Slides      []WhereSlide `json:"slides"`
	// Hole is the one that has been made last about the arc's centre, and can be swept there; left out where none has.
	Hole *WhereHole `json:"hole,omitempty"`
}

// WhereHole is a hole of the plate: its arc, and its radius as it was measured, else as it is drawn.
type WhereHole struct {
	N        int    `json:"n"`
	Radius   Number `json:"radius"`
	Measured bool   `json:"measured"`
}

// WhereChange is from what to what; From is not known before the first.
type WhereChange struct {
	From Number `json:"from"`
	To   Number `json:"to"`
}

// WhereSlide is a slide that is wound, and how far in all.
type WhereSlide struct {
	Slide  string `json:"slide"`
	Travel Number `json:"travel"` // of the slide, + where its coordinate grows; not known before the first
}

// NewWhere tells where a plate is by the journals that hold settings of its drawing, in unit u, and in which of them a setting of
// what comes now is to be gone on with, the likeliest first.
func NewWhere(p *part.Plate, d *Drawn, all []Journal, u geom.Unit) (Where, []Journal) {
	m := whereMaker{planMaker{u: u}, p, d, all}
	x := Where{Say: "run", Unit: u, Part: p.Name, Of: len(p.Tasks), List: []WhereTask{}}
	var next *part.Task
	var open []Journal
	for i := range p.Tasks {
		t := &p.Tasks[i]
		line, begun, done := m.task(t)
		switch {
		case done:
			x.Done++
			line.Stands = whereDone
		case next == nil:
			next, open, line.Stands = t, begun, whereNow
		}
		x.List = append(x.List, line)
	}
	if next != nil {
		now := m.next(next)
		now.Begun = len(open) > 0
		x.Next = &now
	}
	return x, open
}

// How an element stands, and by what it is made.
const (
	whereDone, whereNow, whereToCome = "done", "now", "to come"
	bySwing, bySlide                 = "swing", "slide"
)

// whereMaker reads where a plate is.
type whereMaker struct {
	planMaker
	plate *part.Plate
	drawn *Drawn
	all   []Journal
}

// task tells of an element; begun are the journals in which it is gone on with.
func (m *whereMaker) task(t *part.Task) (x WhereTask, begun []Journal, done bool) {
	nowhere := Number(nan)
	x = WhereTask{N: t.N, What: taskWhat(t), By: bySlide, Why: t.Why, Layer: t.Layer, Round: t.Mill, Stands: whereToCome,
		State: string(part.ToDo), Cutter: m.known(t.Cutter), Depth: m.known(t.Depth), Swing: nowhere, Centre: Place{nowhere, nowhere}}
	if t.Arc == nil {
		if done = m.ticked(t.N); done {
			x.State = "ticked"
		}
		return x, nil, done
	}
	x.By, x.Setting, x.Swing, x.Centre = bySwing, m.plate.Number(t), m.length(t.Arc.Swing), m.place(t.Arc.Readout)
	last, name := m.newest(func(of *part.Picked) bool { return t.Is(of) })
	for i := range m.all {
		l := &m.all[i]
		if l.Unfinished() && m.drawn.Drew(l.State.Set) && t.Is(l.State.Set.Arc) {
			begun = append(begun, *l)
		}
	}
	if last != nil {
		made := MadeOf(t.N, &last.State)
		x.State, x.Journal = string(made.Stands(t.Arc.Radius)), name
		x.Measured, x.Verdict = m.measured(&last.State)
		done = last.State.Phase == session.Ended || !last.State.Set.Steps
	}
	if done = done && !slices.ContainsFunc(begun, func(l Journal) bool { return !l.Open() || l.Read() }); !done && len(begun) > 0 &&
		begun[0].Open() {
		x.State = "begun"
	}
	return x, begun, done
}

// taskWhat is what an element is called.
func taskWhat(t *part.Task) string {
	switch {
	case t.Slot:
		return "slot"
	case len(t.Mill) > 0:
		return "milling"
	case t.Arc == nil && t.Why == "":
		return "straight"
	}
	return "arc"
}

// ticked reports whether an element has been ticked off in any journal of the plate.
func (m *whereMaker) ticked(n int) bool {
	return slices.ContainsFunc(m.all, func(l Journal) bool {
		return l.State.Set != nil && m.drawn.Drew(l.State.Set) && slices.Contains(l.State.Ticks, n)
	})
}

// newest is the newest accepted setting of the drawing whose arc is wanted, and its journal's name; nil for none.
func (m *whereMaker) newest(wanted func(*part.Picked) bool) (last *Accepted, journal string) {
	for i := range m.all {
		l := &m.all[i]
		for k := range l.Accepted {
			if a := &l.Accepted[k]; m.drawn.Drew(a.State.Set) && wanted(a.State.Set.Arc) && (last == nil || !a.At.Before(last.At)) {
				last, journal = a, geom.PrintableLine(l.Name)
			}
		}
	}
	return last, journal
}

// measured is what the finished arc of a setting was measured to, and what that proves; nil where it was not.
func (m *whereMaker) measured(s *session.State) (v *Value, verdict string) {
	for i := len(s.Worked) - 1; i >= 0; i-- {
		w := &s.Worked[i]
		if w.Step != session.CheckArc || w.Value == nil {
			continue
		}
		target, tolerance := s.Set.Job.Arc(), s.Set.Job.Target.Tolerance
		if target == 0 { // of a slot's centre line, which the axis follows
			target = s.Set.Arc.Radius
		}
		v = &Value{m.length(*w.Value), Number(nan)}
		if !(tolerance > 0) {
			return v, ""
		}
		if a, _, ok := s.Gauged(w); ok {
			_, judged, _ := a.Judge(target, tolerance)
			return ValueOf(m.u, a.Radius.Value()), judged.String()
		}
		if math.Abs(*w.Value-target) > tolerance {
			return v, indicator.Outside.String()
		}
		return v, indicator.Inside.String()
	}
	return nil, ""
}

// next tells what is changed for a task, from where the newest setting of the plate has left the machine.
func (m *whereMaker) next(t *part.Task) WhereNext {
	x := WhereNext{N: t.N, What: taskWhat(t), By: bySlide, Why: t.Why, Slides: []WhereSlide{}}
	if len(t.Mill) > 0 {
		x.Do = strings.Join(m.milling(t), "; ")
	}
	if t.Arc == nil {
		return x
	}
	x.By = bySwing
	var from *part.Task
	if last, _ := m.newest(func(*part.Picked) bool { return true }); last != nil {
		if i := slices.IndexFunc(m.plate.Tasks, func(o part.Task) bool { return o.Is(last.State.Set.Arc) }); i >= 0 {
			from = &m.plate.Tasks[i]
		}
	}
	x.Cutter, x.Swing = m.change(from, t, func(o *part.Task) float64 { return o.Cutter }), m.change(from, t,
		func(o *part.Task) float64 { return o.Arc.Swing })
	names, at := [...]string{"x", "y"}, func(o *part.Task) geom.Point { return o.Arc.Readout }
	if t.Arc.CutterBearing != nil {
		names, at = [...]string{"table_x", "table_y"}, func(o *part.Task) geom.Point { return o.Wind }
	}
	for i, name := range names {
		travel := nan
		if from != nil {
			by := at(t).Sub(at(from))
			if travel = [...]float64{by.X, by.Y}[i]; math.Abs(travel) < noWay {
				continue
			}
		}
		x.Slides = append(x.Slides, WhereSlide{name, m.length(travel)})
	}
	x.SameSetting = from != nil && t.SetAs(from)
	x.Hole = m.hole(t)
	return x
}

// milling says how a milling is done.
func (m *whereMaker) milling(t *part.Task) []string {
	of := milling{unit: m.u, depth: m.length(t.Depth)}
	for _, b := range m.plate.Milled(t) {
		of.floors = append(of.floors, millFloor{b.N, m.length(b.Cutter)})
		if b.Arc != nil {
			of.table = b.Arc.CutterBearing != nil
			of.passes = m.lengths((&setup.Cut{Depth: t.Depth, Step: b.Arc.Step}).Passes())
		}
	}
	return of.words()
}

// hole is the one that has been made last about the centre of a task; nil for none.
func (m *whereMaker) hole(t *part.Task) (hole *WhereHole) {
	for _, o := range m.plate.Taken(t) {
		if line, _, done := m.task(o); done {
			if hole = (&WhereHole{N: o.N, Radius: m.length(o.Arc.Radius)}); line.Measured != nil {
				hole.Radius, hole.Measured = line.Measured.Value, true
			}
		}
	}
	return hole
}

// noWay is a way that no slide is wound, millimetres.
const noWay = 5e-4

// change is from what to what a figure is changed; nil where it stays.
func (m *whereMaker) change(from, to *part.Task, of func(*part.Task) float64) *WhereChange {
	if from == nil {
		return &WhereChange{Number(nan), m.length(of(to))}
	}
	if math.Abs(of(from)-of(to)) < noWay {
		return nil
	}
	return &WhereChange{m.length(of(from)), m.length(of(to))}
}
