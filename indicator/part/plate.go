package part

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
)

// Plate is a whole part as it is worked off: what is to be done, in the order in which it is cut. The opening of each of its
// settings keeps it, so that the run goes on from a journal alone.
type Plate struct {
	Name  string `json:"name"` // the part's
	Tasks []Task `json:"tasks"`
}

// Task is one element of a plate. Lengths are millimetres.
type Task struct {
	N     int    `json:"n"` // its number in the plan
	Layer string `json:"layer,omitempty"`
	// Arc is what a setting is opened for; nil of what no swing makes: a straight, and an arc that Why says why not of.
	Arc  *Picked `json:"arc,omitempty"`
	Slot bool    `json:"slot,omitempty"` // it is the first pass of a slot
	// Mill are the bosses that the plate is milled off round, down to Depth: no element then, but what the slides do between two.
	Mill   []int   `json:"mill,omitempty"`
	Why    string  `json:"why,omitempty"`
	Cutter float64 `json:"cutter,omitempty"` // of a straight; 0 where none is known
	// Depth is from the top of the stock to the floor of its cut, 0 where the drawing does not say.
	Depth float64 `json:"depth,omitempty"`
	// Setting is which setting of the swing radius serves it, a number of its own ([Plate.Number] says which in order), and Centre
	// which of its centres it lies about, from 1; 0 of what no swing makes.
	Setting int `json:"setting,omitempty"`
	Centre  int `json:"centre,omitempty"`
	// Wind is how far a rotary table's cross slides are wound from the datum for it.
	Wind geom.Point `json:"wind,omitzero"`
}

// NewPlate lists what there is to do of a plan, of the part that is called name.
func NewPlate(p *Plan, name string) *Plate {
	out := &Plate{Name: geom.PrintableLine(name)}
	for i, s := range p.Order {
		for k := range p.Mills {
			if m := &p.Mills[k]; m.Place == i {
				out.Tasks = append(out.Tasks, m.task())
			}
		}
		t := Task{N: s.N, Depth: p.depth(s.N)}
		if l := p.line(s.N); l != nil {
			t.Layer, t.Cutter = geom.PrintableLine(l.Layer), l.Cutter
			out.Tasks = append(out.Tasks, t)
			continue
		}
		a := p.arc(s.N)
		t.Layer, t.Slot = geom.PrintableLine(a.Layer), slices.ContainsFunc(p.Slots, func(l Slot) bool { return l.N == s.N })
		picked, err := Pick(p, s.N, name)
		if err != nil {
			t.Why = err.Error()
			if no, ok := err.(*ArcError); ok {
				t.Why = no.Why
			}
			t.Why = geom.PrintableLine(t.Why)
			out.Tasks = append(out.Tasks, t)
			continue
		}
		t.Arc, t.Cutter, t.Setting, t.Wind = picked, picked.Cutter, a.Group, a.Wind
		t.Centre = 1 + slices.IndexFunc(p.Groups[a.Group-1].Centres, func(c []int) bool { return slices.Contains(c, a.N) })
		out.Tasks = append(out.Tasks, t)
	}
	return out
}

// Check refuses a plate that none was ever drawn as; nil is no plate. The error says what was seen, then what is needed.
func (p *Plate) Check() error {
	if p == nil {
		return nil
	}
	if geom.PrintableLine(p.Name) != p.Name {
		return fmt.Errorf("plate %q, need a name that prints", p.Name)
	}
	seen := map[int]bool{}
	for i := range p.Tasks {
		t := &p.Tasks[i]
		if t.N < 1 || seen[t.N] {
			return fmt.Errorf("element %d of the plate, need each number once, from 1", t.N)
		}
		seen[t.N] = true
		if err := cmp.Or(t.check(), p.checkMill(i)); err != nil {
			return fmt.Errorf("element %d of the plate: %w", t.N, err)
		}
	}
	return nil
}

func (t *Task) check() error {
	for _, text := range []string{t.Layer, t.Why} {
		if geom.PrintableLine(text) != text {
			return fmt.Errorf("%q, need a text that prints", text)
		}
	}
	switch a := t.Arc; {
	case t.Depth < 0:
		return fmt.Errorf("depth %v mm, need 0 or more", t.Depth)
	case t.Cutter < 0:
		return fmt.Errorf("cutter %v mm, need 0 or more", t.Cutter)
	case t.Setting < 0 || t.Centre < 0:
		return fmt.Errorf("setting %d and centre %d, need 0 or more", t.Setting, t.Centre)
	case a == nil:
		return nil
	case a.N != t.N:
		return fmt.Errorf("arc %d, need the element's own number", a.N)
	case !(a.Swing > 0) || !(t.Cutter > 0):
		return fmt.Errorf("swing radius %v mm and cutter %v mm, need both above 0", a.Swing, t.Cutter)
	}
	return t.Arc.Check()
}

// Task is the task of number n; nil for none.
func (p *Plate) Task(n int) *Task {
	if p == nil {
		return nil
	}
	if i := slices.IndexFunc(p.Tasks, func(t Task) bool { return t.N == n }); i >= 0 {
		return &p.Tasks[i]
	}
	return nil
}

// ByHand lists what no setting makes, by number: it is ticked off.
func (p *Plate) ByHand() (numbers []int) {
	if p == nil {
		return nil
	}
	for _, t := range p.Tasks {
		if t.Arc == nil {
			numbers = append(numbers, t.N)
		}
	}
	return numbers
}

// Circles are the whole circles about other centres than one, the nearest first.
func (p *Plate) Circles(centre geom.Point) (out []job.Circle) {
	for _, t := range p.Tasks {
		if a := t.Arc; a != nil && a.full() && a.Centre.Sub(centre).Norm() > job.Concentric {
			out = append(out, job.Circle{N: t.N, Centre: a.Centre, Radius: a.Radius})
		}
	}
	slices.SortStableFunc(out, func(x, y job.Circle) int {
		return cmp.Compare(x.Centre.Sub(centre).Norm(), y.Centre.Sub(centre).Norm())
	})
	return out
}

// Is reports whether a setting for an arc is for this task, whatever number the arc had then.
func (t *Task) Is(of *Picked) bool { return t.Arc != nil && of != nil && t.Arc.same(of) }

// SetAs reports whether a task is cut as another one is set: nothing is wound or changed between the two.
func (t *Task) SetAs(as *Task) bool {
	return t.Arc != nil && as.Arc != nil && t.Setting == as.Setting && t.Centre == as.Centre && t.Arc.Cutter == as.Arc.Cutter
}

// Way is what parts take, counted: nobody knows how long any of it takes at a machine.
type Way struct {
	Clampings   int // a part is put on, and clocked
	SetUps      int // a radius or a centre is wound to, and swept until it is inside
	Verified    int // a part that is put on where the setting stands is swept once
	ChangeOvers int // indicator out, cutter in
	Cutters     int // another cutter goes in
	Readings    int // of all the sweeps
}

// roundsToSet is how many sweeps a setting takes: one to find, one behind the winds that shows it inside.
const roundsToSet = 2

// stationsToVerify is the round that checks a part on a setting which stands.
const stationsToVerify = 5

// Ways counts what so many parts take, each part through all settings, or each setting for all parts; stations are those of a sweep.
// A setting that is opened anew is found in a round, and seen inside in a round of five after the winds.
func (p *Plate) Ways(parts, stations int) (byPart, bySetting Way) {
	settings, cutters := 0, 0
	var last *Task
	for i := range p.Tasks {
		t := &p.Tasks[i]
		if t.Arc == nil {
			continue
		}
		if last == nil || !t.SetAs(last) {
			settings++
		}
		if last == nil || math.Abs(t.Cutter-last.Cutter) > sameMM {
			cutters++
		}
		last = t
	}
	set := stations + (roundsToSet-1)*stationsToVerify
	byPart = Way{Clampings: parts, SetUps: parts * settings, ChangeOvers: parts * settings, Cutters: parts * cutters,
		Readings: parts * settings * set}
	later := (parts - 1) * settings
	// The part that is on last at one setting is the first at the next.
	bySetting = Way{Clampings: parts*settings - max(0, settings-1), SetUps: settings, Verified: later,
		ChangeOvers: parts * settings, Cutters: cutters,
		Readings: settings*set + later*stationsToVerify}
	return byPart, bySetting
}
