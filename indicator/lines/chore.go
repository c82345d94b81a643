package lines

import (
	"fmt"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// choreTeller is what the words of a chore are made from.
type choreTeller struct {
	s     *session.State
	j     *setup.Job
	u     geom.Unit
	table bool // it is a table that is turned
	run   record.Run
	runs  bool // it is known how the cutter is swung
	at    int  // its place in the order, from 0; −1 where it stands in none
}

// head is what is swung or turned.
func (t *choreTeller) head() string { return t.s.SetUp().Swung }

func (t *choreTeller) length(mm float64) string {
	return fmt.Sprintf("%s %v", geom.FormatFixed(t.u.From(mm), 3), t.u)
}

// swung puts the run behind what is done in it, in two lengths.
func (t *choreTeller) swung(long, short string) []string {
	if !t.runs {
		return []string{long, short}
	}
	return []string{long + ": " + t.run.Words() + t.run.Windows(), short + ": " + t.run.Brief()}
}

// choreWords are the words of every chore, in ever shorter forms; its name stands behind them, fit for large letters.
var choreWords = []struct {
	chore session.Chore
	words func(*choreTeller) []string
}{
	{session.Isolate, fixed("spindle off and isolated, before a hand or an indicator goes near it", "spindle off, isolated")},
	{session.RoughIn, roughedIn},
	{session.LockHeight, func(t *choreTeller) []string {
		return []string{"quill and knee to where the sweep is to be, and lock them; the " + t.head() +
			"'s drag as it will be in the cut, and not touched after",
			"quill and knee to the sweep's height, lock"}
	}},
	{session.TipIn, tipIn},
	{session.Rock, func(t *choreTeller) []string {
		return []string{"rock the free cutter spindle to and fro to the turning point, " + TurningWords(t.j),
			"rock to the turning point: " + TurningWords(t.j)}
	}},
	{session.LockSpindle, func(t *choreTeller) []string {
		if t.table {
			return []string{"lock the cutter spindle there, witness mark across it; then turn the table once round by hand, watching " +
				"clearance and needle", "lock the spindle there, mark; table once round"}
		}
		return []string{"lock the cutter spindle to the head there", "lock spindle to head there"}
	}},
	{session.RockAgain, func(t *choreTeller) []string {
		if t.s.Trial > 1 {
			return []string{fmt.Sprintf("the cross slides have gone %s: free the spindle, rock to the turning point again (%s), "+
				"lock it there", t.length(t.s.Crossed), TurningWords(t.j)),
				"free, rock to the turning point, lock", "rock again"}
		}
		return []string{"spindle locked, swing to opposite: does the needle stand at its turning point there too? " +
			"out of sight there: look as far round as it is on the dial, and wind nothing; witness mark across spindle and head; " +
			"then once round by hand, watching clearance and needle", "locked: look opposite, mark, once round", lookOpposite}
	}},
	{session.LockHead, func(t *choreTeller) []string {
		return []string{fmt.Sprintf("close the %s's lock where it stands, last of all, and read the dial again (%s)", t.head(), DialWords(t.s, t.u)),
			fmt.Sprintf("close the %s's lock, read again (%s)", t.head(), DialWords(t.s, t.u)), "lock " + t.head()}
	}},
	{session.IndicatorOut, indicatorOut},
	{session.CutterIn, func(t *choreTeller) []string {
		if t.j.Cut != nil {
			return []string{fmt.Sprintf("cutter of %s into the spindle, tight", t.length(t.j.Cut.Cutter))}
		}
		return []string{"cutter into the spindle, tight"}
	}},
	{session.FreeSpindle, fixed("free the cutter spindle from its lock: it turns by hand", "free the spindle, turn it by hand")},
	{session.LeaveStock, func(t *choreTeller) []string {
		return []string{fmt.Sprintf("leave %s on", t.length(t.j.Cut.Stock))}
	}},
	{session.FreeHead, func(t *choreTeller) []string {
		return []string{"open the " + t.head() + "'s own lock again: it is swung from now on", "open the " + t.head() + "'s lock",
			"free the " + t.head()}
	}},
	{session.SetStops, setStops},
	{session.DrySwing, dry},
	{session.DryTurn, dry},
	{session.Power, powered},
	{session.RoughCut, func(t *choreTeller) []string {
		return t.swung(fmt.Sprintf("cut, %s left on", t.length(leavesOn(t.s))), "cut, stock left on")
	}},
	{session.Measure, fixed("measure the arc's radius", "measure the radius")},
	{session.LastWind, func(t *choreTeller) []string {
		return []string{fmt.Sprintf("to %s", t.length(t.j.Arc())) + unmeasured(t.s)}
	}},
	{session.Cut, func(t *choreTeller) []string { return t.swung("cut the arc to size", "cut") }},
	{session.Pass, passed},
	{session.LiftOut, fixed("lift the cutter out of the metal, clear of the work, before anything is wound or measured; spindle off, "+
		"wait until it stands", "lift out, clear of the work; spindle off")},
	{session.CutterOut, fixed("take the cutter out of the spindle, and the drawbar's spanner off; nothing else is opened or wound",
		"cutter out, spanner off")},
	{session.StopsOff, func(t *choreTeller) []string {
		return []string{"back the " + t.head() + "'s stops off: the sweep goes round past them, and they are set again before the cut",
			"back the stops off"}
	}},
	{session.IndicatorIn, indicatorIn},
	{session.TouchTop, fixed("still isolated, touch the cutter to the top of the stock, where it is not cut yet, and set the quill's scale or "+
		"stop to zero there: the cutter has been out; then up, clear above the work", "zero the quill on top of the stock, then up")},
	{session.CheckArc, fixed("check the finished arc's radius", "check the arc's radius")},
	{session.PartIn, fixed("the finished part out; seat and stops wiped bare of chips, the next part in, against the stops, and clamped",
		"part out, wipe seat and stops, next part in, clamp")},
	{session.FeelSeat, fixed("a feeler or a strip of paper all round beneath the part: it slips in nowhere, or a chip lies there",
		"a feeler beneath the part all round: tight")},
	{session.ClockEdge, clockEdge},
}

// lookOpposite is what [session.RockAgain] is called before anything has been wound.
const lookOpposite = "look opposite"

// named are the chores whose words end in a short name of their own.
var named = []session.Chore{session.LockHead, session.FreeHead, session.RockAgain}

// named reports whether the words of a chore at a place of the order end in a name of its own.
func (t *choreTeller) named(c session.Chore) bool {
	_, pass := t.s.PassAt(t.at)
	return pass || slices.Contains(named, c)
}

// fixed are words that nothing changes.
func fixed(all ...string) func(*choreTeller) []string {
	return func(*choreTeller) []string { return all }
}

// DryWords names the one pass by hand with the power off: a head is swung, a table is turned.
func DryWords(s *session.State) string {
	if s.SetUp().Under().Table {
		return string(session.DryTurn)
	}
	return string(session.DrySwing)
}

// dry is that pass.
func dry(t *choreTeller) []string {
	what := DryWords(t.s)
	words := t.swung("power off, work clamped, cutter just above the work; "+what+" by the handle, watching column, clamps and stops",
		what+" by the handle")
	if lies := t.run.Lies(); t.runs && lies != "" {
		words[0] += "; " + lies
	}
	return words
}

// swings reports whether the cutter is swung in a chore.
func swings(c session.Chore) bool {
	return slices.Contains([]session.Chore{session.DrySwing, session.DryTurn, session.RoughCut, session.Cut, session.Pass}, c)
}

// ChoreWords says in words what a step asks for, in ever shorter forms, the last of which is fit for
// large letters.
func ChoreWords(s *session.State, c session.Chore, u geom.Unit) []string {
	all, done := s.Chores()
	at := -1
	if n := min(len(done), len(all)); slices.Contains(all[n:], c) {
		at = n + slices.Index(all[n:], c)
	}
	return ChoreWordsAt(s, c, at, u)
}

// ChoreWordsAt is [ChoreWords] of the step at a place of the order, from 0: of several that are called alike it is the one that counts.
func ChoreWordsAt(s *session.State, c session.Chore, at int, u geom.Unit) []string {
	t := choreTeller{s: s, j: &s.Set.Job, u: u, table: s.SetUp().Under().Table, at: at}
	t.run, t.runs = cutRun(s)
	for _, r := range choreWords {
		if r.chore != c {
			continue
		}
		words := r.words(&t)
		if c == session.RoughIn {
			words = append([]string{words[0] + centreWords(s.Set, u)}, words[1:]...)
		}
		if t.named(c) {
			return words
		}
		return append(slices.Clip(words), string(c))
	}
	return []string{string(c)}
}

// ChoreRun is how the cutter is swung in a step; ok is false of one that swings nothing, and where it is not known.
func ChoreRun(s *session.State, c session.Chore) (r record.Run, ok bool) {
	if !swings(c) {
		return r, false
	}
	return cutRun(s)
}

// choreName is what a step is called in a state, by the last of its words: what is asked and what is said of it afterwards are
// called alike. The journal's name may stand for two of them.
func choreName(s *session.State, c session.Chore, u geom.Unit) string {
	all := ChoreWords(s, c, u)
	return all[len(all)-1]
}

// cutRun is how the cutter is swung to cut the setting's arc: as the plan has it; or, where there is none, by the side
// of the metal for a cutter that turns clockwise seen from above, the ends left open. ok is false where not even that
// is known.
func cutRun(s *session.State) (r record.Run, ok bool) {
	turned := s.SetUp().Under().Table
	if a := s.Set.Arc; a != nil {
		r = record.RunOf(a, turned, ringOf(s, turned), setup.LieOf(&s.Set.Job, &s.Set.Machine))
		if stops, ok := s.Stops(); ok {
			r = r.At(&stops)
		}
		return r, true
	}
	c := s.Set.Job.Cut
	if c == nil || !s.Set.Job.Target.WantsSwing() {
		return r, false
	}
	return record.RunOpen(c.Hollow, turned), true
}

// ringOf is the ring of the head, or of the table.
func ringOf(s *session.State, turned bool) *setup.Ring {
	if turned {
		return &s.Set.Machine.Table
	}
	return &s.Set.Machine.Head
}
