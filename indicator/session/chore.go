package session

import (
	"fmt"
	"slices"
)

// Chore is one step of the order at the machine that the program cannot see for itself. It is asked
// for, done or left out, and journalled.
type Chore string

// The chores: ahead of the loads, with the tip in ahead of the sweep, at the end of the last sweep, and from the
// accepted setting to the checked arc. Their names are the journals' and never change.
const (
	Isolate      Chore = "isolate"       // before a hand goes near the spindle, and again before anything is measured
	RoughIn      Chore = "rough in"      // radius by scale or collar, centre by eye; the tip clear
	LockHeight   Chore = "lock height"   // quill and knee, where the sweep is to be
	TipIn        Chore = "tip in"        // only once the slides are loaded
	Rock         Chore = "rock"          // to the turning point
	LockSpindle  Chore = "lock spindle"  // to the head, there
	RockAgain    Chore = "rock again"    // opposite, or after long cross winds
	LockHead     Chore = "lock head"     // closed last; the dial is read again
	IndicatorOut Chore = "indicator out" //
	CutterIn     Chore = "cutter in"     //
	FreeSpindle  Chore = "free spindle"  // it was locked to the head
	LeaveStock   Chore = "leave stock"   // a wind
	FreeHead     Chore = "free head"     // its own lock was closed for the last readings
	SetStops     Chore = "set stops"     // where the swing begins and stops, as a drawing says
	DrySwing     Chore = "dry swing"     // one, from where the arc begins to where it stops
	DryTurn      Chore = "dry turn"      // the same on a table
	Power        Chore = "power"         // with nothing left on the table
	RoughCut     Chore = "rough cut"     //
	Measure      Chore = "measure"       // the arc with its stock; answered with its radius
	LastWind     Chore = "last wind"     // a wind, to the finished radius
	Cut          Chore = "cut"           //
	Pass         Chore = "pass"          // of several, where a depth is stated
	LiftOut      Chore = "lift out"      // of the metal, before anything is wound or measured
	CheckArc     Chore = "check arc"     // answered with its radius
	CutterOut    Chore = "cutter out"    // for a look whether anything has moved
	IndicatorIn  Chore = "indicator in"  // the same, and for a later part: by its holder, no slide is wound
	TouchTop     Chore = "touch top"     // of the stock: the cutter has been out, and the quill's zero is gone
	StopsOff     Chore = "stops off"     // out of the way of a sweep, where they are set for the arc
)

// choreRow is what is known of a chore.
type choreRow struct {
	name   Chore
	answer string // the number that it is answered with; empty: with none
	may    string // the number that it may be answered with where the radius comes from a trial cut
	winds  bool   // it is a wind
}

const (
	dialReading = "the dial's reading"
	arcRadius   = "the arc's radius"
	radiusSet   = "the swing radius as set"
)

// choreRows are all chores.
var choreRows = append(partChores, []choreRow{
	{name: Isolate}, {name: RoughIn, may: radiusSet}, {name: LockHeight}, {name: TipIn}, {name: Rock}, {name: LockSpindle},
	{name: RockAgain}, {name: LockHead, answer: dialReading}, {name: IndicatorOut}, {name: CutterIn}, {name: FreeSpindle},
	{name: LeaveStock, winds: true}, {name: FreeHead}, {name: SetStops}, {name: DrySwing}, {name: DryTurn}, {name: Power}, {name: RoughCut},
	{name: Pass}, {name: LiftOut}, {name: Measure, answer: arcRadius}, {name: LastWind, winds: true},
	{name: Cut}, {name: CheckArc, answer: arcRadius}, {name: CutterOut}, {name: IndicatorIn}, {name: StopsOff}, {name: TouchTop},
}...)

// AllChores lists every chore there is.
func AllChores() (all []Chore) {
	for _, r := range choreRows {
		all = append(all, r.name)
	}
	return all
}

// row is what is known of a chore; of one that is none it is empty.
func (c Chore) row() choreRow {
	if i := slices.IndexFunc(choreRows, func(r choreRow) bool { return r.name == c }); i >= 0 {
		return choreRows[i]
	}
	return choreRow{}
}

// measured reports whether a chore is answered with a number.
func (c Chore) measured() bool { return c.row().answer != "" }

// winds reports whether a chore is a wind.
func (c Chore) winds() bool { return c.row().winds }

// check refuses a word that is no chore, and a value where none belongs.
func (w Worked) check() error {
	switch r := w.Step.row(); {
	case r.name == "":
		return fmt.Errorf("step %q, which this program does not know", w.Step)
	case r.answer == "" && r.may == "" && w.Value != nil:
		return fmt.Errorf("step %q with a value, need none", w.Step)
	case w.Value != nil && r.answer != dialReading && !(*w.Value > 0):
		return fmt.Errorf("step %q with a radius of %v mm, need more than 0", w.Step, *w.Value)
	case w.By != nil && (r.answer != arcRadius || w.Value == nil):
		return fmt.Errorf("step %q with a way of measuring, need none", w.Step)
	case w.By != nil:
		return w.By.check()
	}
	if err := w.Seen.check(w.Step); err != nil {
		return err
	}
	return w.Gauge.check()
}

// safeOrder is the order in which the machine is isolated before any hand goes in, the slides are loaded with the
// tip clear, and the spindle is locked where its turning point was found. Settings opened before it say nothing and
// keep the order they were asked in.
const safeOrder = 1

// cutOrder is the order in which a cut whose depth is stated is made in passes, and the cutter lifted out of the metal behind them.
const cutOrder = 2

// before lists the chores ahead of the loads, or, once these are done, ahead of the sweep.
func (s *State) before() []Chore {
	if s.Set == nil || !s.Set.Steps || !s.SetUp().Does().Cuts {
		return s.setsRadius() // where only the centre is found, nothing is cut yet
	}
	if s.Part > 1 {
		return s.beforePart()
	}
	if s.Set.Order < safeOrder {
		return s.beforeOfOld()
	}
	switch u := s.SetUp(); {
	case !s.Readying:
		return []Chore{Isolate, RoughIn}
	case s.Trial > 1 || s.Winds != nil:
		return []Chore{RockAgain}
	case u.Does().Turns: // the spindle turns, and carries the indicator round
		return []Chore{LockHeight, TipIn}
	case u.Under().Table:
		return []Chore{LockHeight, TipIn, Rock, LockSpindle}
	}
	return []Chore{LockHeight, TipIn, Rock, LockSpindle, RockAgain}
}

// beforeOfOld is the list as it was before safeOrder, all of it ahead of the loads.
func (s *State) beforeOfOld() []Chore {
	switch u := s.SetUp(); {
	case s.Readying:
		return nil
	case u.Under().Table:
		return []Chore{RoughIn, LockSpindle, LockHeight}
	case u.Does().Turns:
		return []Chore{RoughIn, LockHeight}
	}
	return []Chore{RoughIn, LockSpindle, Rock, LockHeight}
}

// crossedShare is the share of the swing radius that the cross slides may be wound by in all before the tip, off the
// radial line by as much, is worth rocking again: 1 mm at 42 is 5 µm in the radius.
const crossedShare = 1.0 / 40

// ready goes on to the sweep, by way of the chores that come ahead of it.
func (s *State) ready() {
	s.Phase = Sweeping
	if s.Set.Order < safeOrder || s.Trial > 1 && !s.rocksAgain() {
		return
	}
	if s.Readying = true; len(s.before()) == 0 {
		s.Readying = false
		return
	}
	s.Phase, s.Worked = Preparing, nil
}

// rocksAgain reports whether the cross slides have carried the tip off the radial line.
func (s *State) rocksAgain() bool {
	u, t := s.SetUp(), s.Set.Job.Target
	return !s.carries() && !u.Under().Table && !u.Does().Turns && t.WantsSwing() && s.Crossed > crossedShare*t.SwingRadius
}

// centreAlone says that no radius is set, and none is to be cut.
func (s *State) centreAlone() bool {
	return s.Set.Rules >= centreRules && !s.Set.Job.Target.WantsSwing() && s.Set.Job.Cut == nil
}

// behind lists the chores from the accepted setting to the checked arc.
func (s *State) behind() []Chore {
	switch {
	case s.ByTrial() && !s.Set.Steps:
		return s.trialCut(nil)
	case !s.Set.Steps || !s.SetUp().Does().Cuts, s.centreAlone():
		return nil
	}
	out := s.changesOver()
	c := s.Set.Job.Cut
	stock := c != nil && c.Stock > 0 && s.canLeave() && s.Part < 2 // later parts are cut with the radius as it was finished
	if s.Set.Order < safeOrder {
		return append(out, behindOfOld(stock)...)
	}
	dry := DrySwing
	if s.SetUp().Under().Table {
		dry = DryTurn
	}
	if s.Set.Machine.HeadLock && !s.Unswept {
		out = append(out, FreeHead)
	}
	if s.ByTrial() {
		return s.trialCut(append(out, s.dry(dry)...))
	}
	off := 0.0
	if stock {
		out = append(append(append(append(append(out, LeaveStock), s.dry(dry)...), Power), s.roughs()...), Isolate, Measure)
		for range s.remeasures() {
			out = append(out, Measure)
		}
		switch {
		case !s.Gone():
			out = append(out, LastWind)
		case s.Set.Rules >= statedRules:
			return append(out, CheckArc) // nothing is left that a further cut could put right
		}
		off = s.takesOff()
	} else {
		out = append(out, s.dry(dry)...)
	}
	return append(append(append(out, Power), s.finishes(off)...), Isolate, CheckArc)
}

// noMetal is less than any radius is measured to, millimetres: what is told as beyond the target is more.
const noMetal = 5e-4

// Gone reports whether the rough cut has been measured beyond the target: no wind puts metal back.
func (s *State) Gone() bool {
	if s.ByTrial() {
		return s.ArcNow().Gone
	}
	w := s.roughCut()
	return w != nil && !s.BySetting() && !s.DoubtsCut() && s.CutAway(*w.Value) > noMetal
}

// behindOfOld is what came behind the change-over before safeOrder.
func behindOfOld(stock bool) []Chore {
	if stock {
		return []Chore{LeaveStock, DrySwing, RoughCut, Measure, LastWind, Cut, CheckArc}
	}
	return []Chore{DrySwing, Cut, CheckArc}
}

// canLeave reports whether the machine has the slide that leaves stock on.
func (s *State) canLeave() bool {
	_, _, ok := s.RadiusSlide()
	return ok && s.Set.Job.Target.WantsSwing()
}
