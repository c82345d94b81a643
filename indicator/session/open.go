package session

import (
	"cmp"
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/setup"
)

// Opened begins a setting. It holds everything the fold needs, so that a replay never depends on
// today's files.
type Opened struct {
	Program string        `json:"program"` // name and version of the program that opened it
	Job     setup.Job     `json:"job"`
	Machine setup.Machine `json:"machine"`
	// By is the operator's initials, where they want them on record; nothing else of a person is kept.
	By    string `json:"by,omitempty"`
	Files []File `json:"files,omitempty"`
	// Arc is the arc of a plan that the setting is for, nil where the job stands alone.
	Arc *part.Picked `json:"arc,omitempty"`
	// Outline is the part that the arc belongs to, as it was drawn: closed and open runs of elements.
	Outline []geom.Chain `json:"outline,omitempty"`
	// Plate is the whole part that the arc is one of, as it is worked off; nil of a setting by itself.
	Plate *part.Plate `json:"plate,omitempty"`
	// Lessons is what the machine has taught before, and Loaded which slides stand loaded: none but in settings of old.
	Lessons []setup.Taught `json:"lessons,omitempty"`
	Loaded  []string       `json:"loaded,omitempty"`
	// Arcs are those that were cut and measured before, which may teach this setting.
	Arcs []Finished `json:"arcs,omitempty"`
	// Forms are what sweeps before have shown of the references.
	Forms []Formed `json:"forms,omitempty"`
	// Steps says that the order at the machine is asked for step by step, before and behind the sweeps.
	Steps bool `json:"steps,omitempty"`
	// Order is in which order that is: [cutOrder], [safeOrder], or 0 in settings of old.
	Order int `json:"order,omitempty"`
	// Bearings says by which figures places are told.
	Bearings Bearings `json:"bearings,omitempty"`
	// Found are figures of the job that were found at the machine before, and from which readings.
	Found []setup.Found `json:"found,omitempty"`
	// Rules says by which rules the fold decides: those of [statedRules], [centreRules], [coarseRules],
	// [scatterRules]; 0 in settings of old, which decide as they did.
	Rules int `json:"rules,omitempty"`
}

// statedRules are those by which a figure whose limit nobody stated is said to be assumed, the form of the reference
// counts, and a statement that the winds speak against is checked before anything is wound by it again.
const statedRules = 1

// centreRules are those by which a setting that brings a centre in, and says nothing of a cut, ends where it is accepted: no radius
// is set that could be cut.
const centreRules = 2

// coarseRules are those by which a needle that was off the dial is looked for where it may be, and what a coarse sweep and long winds
// leave open is read between the winds.
const coarseRules = 3

// scatterRules are those by which fine dials of no stated repeatability are not trusted to the last of their divisions, and five
// readings not searched for two that are misread: see [fit.Prior].
const scatterRules = 4

// File names a file the setting was read from, with a digest, so that a resumed session can say
// that it has changed since.
type File struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

// Open begins a setting.
type Open struct{ Opened }

func (Opened) row() *EventRow { return opened }
func (Open) row() *CommandRow { return openSetting }

var opened = event[Opened]{kind: "opened", grown: true,
	check: func(e Opened) error { return e.check() },
	apply: func(s *State, e Opened) {
		e.Job.Dial.Trembling = 0 // another setting's readings say
		e.Job.Dial.Before = e.Rules < scatterRules
		*s = State{Set: &e, Phase: Preparing, Trial: 1, Events: s.Events, Ticks: s.Ticks,
			ofLessons: ofLessons{Lessons: e.Lessons, Arcs: e.Arcs, Forms: e.Forms}, ofParts: ofParts{Part: 1}}
		s.onward()
	},
}.row()

// check refuses what no program can have opened a setting with.
func (e *Opened) check() error {
	if e.Order < 0 || e.Order > cutOrder {
		return fmt.Errorf("order %d, need 0 to %d", e.Order, cutOrder)
	}
	if e.Rules < 0 || e.Rules > scatterRules {
		return fmt.Errorf("rules %d, need 0 to %d", e.Rules, scatterRules)
	}
	for i := range e.Found {
		if err := cmp.Or(e.Found[i].Check(), e.Found[i].Says(&e.Job)); err != nil {
			return err
		}
	}
	if err := cmp.Or(e.Job.Check(), e.Machine.Check(), e.Arc.Check(), e.Plate.Check(), e.Bearings.Check()); err != nil {
		return err
	}
	return cmp.Or(e.wound(), e.taught())
}

// wound refuses a machine without a slide that the job winds.
func (e *Opened) wound() error {
	j := e.Job
	j.Setup.Taps = setup.Taps(&e.Job, &e.Machine)
	for _, name := range j.Needs() {
		if _, ok := e.Machine.Slide(name); !ok {
			return fmt.Errorf("a machine without the slide %q, which the job winds", name)
		}
	}
	return nil
}

// taught refuses forms of references, and finished arcs, that nothing can have shown.
func (e *Opened) taught() error {
	for _, f := range e.Forms {
		if f.Radius < 0 || f.Two < 0 || f.Three < 0 {
			return fmt.Errorf("a reference of radius %v mm, oval by %v mm, three lobes of %v mm, need none below 0", f.Radius, f.Two,
				f.Three)
		}
	}
	for _, a := range e.Arcs {
		if a.Own < 0 || a.Common < 0 || a.Measured < 0 {
			return fmt.Errorf("a finished arc with doubts of %v, %v and %v mm, need none below 0", a.Own, a.Common, a.Measured)
		}
	}
	return nil
}

var openSetting = command[Open]{opens: true, always: true, decide: decideOpen}.row()

func decideOpen(s *State, o Open) (Event, error) {
	if s.Phase != Unopened && !s.Accepted() {
		return nil, refuse("go on with it, or accept it", "a setting is open already")
	}
	if n := o.Job.Sweep.Stations; n < fit.MinStations || n > indicator.MaxStations {
		return nil, refuse("", "the sweep has %d stations, need %d to %d", n, fit.MinStations, indicator.MaxStations)
	}
	if len(o.Job.Sweep.Obstacles) > 0 && o.Job.Sweep.Left() <= 0 {
		return nil, refuse("", "the obstacles leave nothing of the sweep, need a part of it")
	}
	if err := o.Bearings.Check(); err != nil {
		return nil, refuse("", "%v", err)
	}
	if err := job.Match(&o.Job, &o.Machine, "machine"); err != nil {
		return nil, refuse("", "%v", err)
	}
	if o.Order = 0; o.Steps {
		o.Order = cutOrder
	}
	o.Rules = scatterRules
	o.Job.Setup.Taps = setup.Taps(&o.Job, &o.Machine)
	// The hand has wound since the last setting what nobody has counted: the slides to the next centre and radius, as the rough-in
	// has it, and in a shop anything else. The play may lie open, and an arc about no hole would go off with the whole of it unseen:
	// every setting takes it up again. Journals of before say which slides stood loaded, and fold by what they say.
	o.Opened.Loaded = nil
	if s.Accepted() && s.Set.Machine.Name == o.Machine.Name && len(o.Opened.Lessons) == 0 {
		o.Opened.Lessons = s.Lessons // what it taught is known, wherever the store of it may be
	}
	if s.Accepted() {
		o.Opened.Forms = s.Forms
		o.Opened.Arcs = s.Arcs // those that the first opening brought with it are among them
	}
	return o.Opened, nil
}
