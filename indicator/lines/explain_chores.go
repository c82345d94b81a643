package lines

import (
	"slices"

	"example.org/trammel/indicator/session"
)

// choreSays is what a step of the order at the machine is for, and how it is done.
type choreSays struct {
	step session.Chore
	// when says that it is asked in this case, of a step that is asked in others too, and in which; nil of all others.
	when func(*moment) bool
	in   string
	says []string
}

// orLeaveOut stands behind every step but those that no machine does without.
const orLeaveOut = "This machine has nothing of the kind: {skip}. The record says that it was left out."

// The two winds are the setting's own: left out, the stock stays on, or is not left at all.
var neverMoot = []session.Chore{session.Isolate, session.IndicatorOut, session.DrySwing, session.DryTurn, session.Power, session.Cut,
	session.Pass, session.LiftOut, session.LeaveStock, session.LastWind}

// verifies says that slides have been wound since the last sweep.
func verifies(m *moment) bool { return m.s.Trial > 1 }

// away says that slides carry the axis from the reference to the arc's centre, or back.
func (m *moment) away() bool {
	return m.waits(session.ForWind) && m.p.Wind.Told.SetOff && m.s.SetUp().Does().Away
}

// bySlide says that the tip comes in by the slide.
func bySlide(m *moment) bool {
	_, ok := m.s.BringsTip()
	return ok
}

// byTrial says that the swing radius comes from a trial cut.
func byTrial(m *moment) bool { return m.s.ByTrial() }

// stopped says that the swing goes to stops that the ring shows.
func (m *moment) stopped() bool { return m.p.Chore.Seen }

// spins says that the spindle stands over the axis and turns.
func (m *moment) spins() bool { return m.s.SetUp().Does().Turns }

// pass is the one that is asked for; the zero value where none is.
func (m *moment) pass() session.CutPass {
	p, _ := m.s.PassAt(m.p.Chore.N - 1)
	return p
}

// deep says that the cut is made in passes.
func deep(m *moment) bool {
	all, _ := m.s.Chores()
	return slices.Contains(all, session.Pass)
}

// choreExplained are the steps' explanations.
var choreExplained = func() (out []explained) {
	for _, c := range choresSay {
		what := "the step " + quoted(string(c.step))
		if c.step == session.RockAgain && c.when == nil {
			what = "the step " + quoted(lookOpposite)
		}
		if c.in != "" {
			what += " " + c.in
		}
		says := slices.Clip(c.says)
		if !slices.Contains(neverMoot, c.step) {
			says = append(says, orLeaveOut)
		}
		out = append(out, explained{what,
			func(m *moment) bool { return m.p.Chore.Step == c.step && (c.when == nil || c.when(m)) },
			says})
	}
	return out
}()

var choresSay = []choreSays{
	{session.PartIn, nil, "", []string{
		"The setting stands, and the fixture or the stop brings the next part to the same place, as far as it does: a chip of a tenth beneath " +
			"a part or at a stop is a tenth in the part.",
		"Take the finished part out. Brush and wipe the seat and the stops bare, wipe the part too, put it in against the stops and clamp it " +
			"the way you clamped the first. Touch no slide.",
		"Then {done}.",
	}},
	{session.FeelSeat, nil, "", []string{
		"A part that lies on a chip is tilted, and no sweep at one height sees that.",
		"Try a thin feeler, or a strip of paper, all round beneath the part: it slips in nowhere. Where it does, take the part out and wipe again.",
		"Then {done}.",
	}},
	{session.ClockEdge, func(m *moment) bool { return m.s.Unswept }, "before a part that is not swept", []string{
		"This part is cut where the slides stand, and no sweep would see one that was wound to clock an edge and did not quite come back.",
		"Try a thin feeler, or a strip of paper, between the part's edge and its stops: it slips in nowhere. Where it does, wipe, and seat it " +
			"again. Wind no slide.",
		"Then {done}. The part is round all over: {skip}.",
	}},
	{session.ClockEdge, nil, "", []string{
		"A sweep of a round hole shows where the part is, not how it is turned: arcs that begin and end at an angle would be cut askew.",
		"Run an indicator along a straight edge of the part by a cross slide, never the offset slide. It reads the same at both ends, or the " +
			"part is turned: put it right against the stops, and do it again. Then the slide back to where it stood, come up to as before.",
		"Then {done}. The part is round all over: {skip}.",
	}},
	{session.Isolate, nil, "", []string{
		"Hands and measuring tools come near the spindle now, so it must not be able to start, whoever leans on a button.",
		"Stop it, wait until it stands, and switch the machine off at its isolator, not at the stop button alone. Press start once: " +
			"nothing may turn.",
		"Then {done}.",
		"It cannot be isolated? Then don't go on: your machine's manual and your supervisor go first.",
	}},
	{session.RoughIn, byTrial, "before a trial cut", []string{
		"No reach is known, so no sweep shows the swing radius: the first cut does. It is made on the safe side by as much as the scale may " +
			"be out, and its arc is measured.",
		"Keep the indicator's tip clear of the work. Wind the offset slide back past the figure and up to it the take-up way, as its " +
			"scale or its collar shows it, and lock it. The centre by a pin or an edge finder, to about 1 mm.",
		"Then {done}. It stands elsewhere, farther on the safe side: type what the scale shows{enter}.",
	}},
	{session.RoughIn, nil, "", []string{
		"The dial sees little more than a millimetre, so everything has to stand that near before it is asked.",
		"Keep the indicator's tip clear of the work. Set the swing radius by scale or collar, then the centre by a pin or an edge " +
			"finder, each to about 1 mm.",
		"Then {done}. Nearer is not needed: the winds do the rest.",
	}},
	{session.LockHeight, (*moment).spins, "over a table", []string{
		"A sweep holds for the height at which it is taken: where anything leans, the centre lies elsewhere above and below.",
		"Put the spindle out of gear so that it turns by hand. Bring quill and knee to where the sweep is to be, as near to the height of " +
			"the cut as you can, and lock both, and the table with them.",
		"Then {done}, and leave the locks alone until the sweep is over.",
	}},
	{session.LockHeight, nil, "", []string{
		"A sweep holds for the height at which it is taken: where anything leans, the centre lies elsewhere above and below.",
		"Bring quill and knee to where the sweep is to be, as near to the height of the cut as you can, and lock both. Set the " +
			"{swung}'s drag as it will be in the cut.",
		"Then {done}, and leave locks and drag alone until the setting is accepted.",
	}},
	{session.TipIn, byTrial, "before a trial cut", []string{
		"The swing radius is set and stays as it is; it is the indicator that gives way, for its reach is not known anyhow.",
		"Spindle still isolated. Move the indicator on its holder until the needle stands about in the middle of its range, and clamp it. " +
			"See that it moves freely both ways, and don't touch the offset slide.",
		"Then {done}. From here on the indicator stays as it is clamped: its reach is found by the cut.",
	}},
	{session.TipIn, bySlide, "by the slide", []string{
		"Now the tip comes to the wall, by the slide that sets the swing radius. That changes the swing radius, and does no harm: the sweep " +
			"finds what it is. What must stay is the reach: don't twist the indicator, move it on its holder or turn its dial.",
		"Spindle still isolated, the {swung} where the sweep begins. Slowly, facing the handle, until the needle moves, then on to about " +
			"the middle of its range. The last movement goes the take-up way, or the backlash is open again: two turns told, go a little " +
			"past, then come back.",
		"Gone too far: back off until the tip is clear, and come in again. See that the needle moves freely both ways.",
		"Then {done}. The wall is out of reach: bring the centre nearer first, then the tip.",
	}},
	{session.TipIn, nil, "", []string{
		"Now the tip comes to the wall. No slide is wound for it: the sweep is for the centre, and the reach does not count for that.",
		"Spindle still isolated. Move the indicator on its holder until the needle stands about in the middle of its range, and clamp it. " +
			"See that it moves freely both ways.",
		"Then {done}. The wall is out of reach: bring the centre nearer first, then the tip.",
	}},
	{session.Rock, nil, "", []string{
		"The dial tells the true distance only where its tip lies on the line through the axis. A few degrees off it are " +
			"hundredths of a millimetre in the radius.",
		"With the cutter spindle free, rock it slowly to and fro by hand: the needle climbs or falls, stands, and goes back. Stop where " +
			"it turns back.",
		"Then {done}, and hold it there until it is locked. It never turns back: the tip faces the wrong way, or slips on the wall.",
	}},
	{session.LockSpindle, nil, "", []string{
		"The spindle must not turn in the head during the sweep, or the tip leaves the line through the axis.",
		"Lock it at the turning point that you have just found, watching the needle: if it moves as you lock, rock and lock again.",
		"Draw a pencil line across both, so that you see it if it slips. Then {done}.",
	}},
	{session.RockAgain, verifies, "after long winds", []string{
		"The cross slides have gone so far that the tip no longer lies on the line through the axis: the radius would be read wrong.",
		"Free the spindle, rock it to and fro to the turning point again, and lock it there, watching the needle as you lock.",
		"Then {done}. It moves as you lock: rock and lock again.",
	}},
	{session.RockAgain, nil, "", []string{
		"A look at the opposite side shows whether the turning point was found well, and nothing is in the way.",
		"Spindle locked, swing to the opposite side. Would rocking bring the needle any farther? Then free it, rock there, lock it again. " +
			"Draw a pencil line across spindle and head, and swing once round by hand, watching clearance and needle.",
		"The needle is out of sight there, off the dial: so far off does the centre lie, which is no fault of the turning point. Wind " +
			"nothing; look as far round as it is still on the dial, keep the lock, and go on: the sweep finds it.",
		"Then {done}. Something is in the way: see to it now, or leave that station out later.",
	}},
	{session.LockHead, nil, "", []string{
		"The last lock often shifts things by a hundredth. Reading the dial before and after shows by how much.",
		"Leave the {swung} where it stands, close its own lock, hand off, then type what the dial shows now{enter}.",
		"It has moved by more than half the tolerance: you are told, and had better cut with the lock as it was in the sweep.",
	}},
	{session.IndicatorOut, nil, "", []string{
		"What stays in or on the spindle flies off when the power comes on.",
		"The machine still isolated, take the indicator and its holder out, and the spanner off the drawbar. Lay them off the table.",
		"Then {done}. The slides stay locked as they are: nothing of the setting is lost by this.",
	}},
	{session.CutterIn, nil, "", []string{
		"The arc comes out wrong by half of what the cutter's diameter is off: it has to be the cutter that the job names.",
		"Still isolated. Wipe taper and collet, put it in, draw it tight, and take the spanner off again.",
		"Then {done}. It is another cutter: measure it, and correct the job file before you cut.",
	}},
	{session.FreeSpindle, nil, "", []string{
		"The spindle was locked to the head for the sweep. Power on a locked spindle breaks something.",
		"Still isolated, open that lock and turn the spindle a whole turn by hand, the cutter clear of everything.",
		"Then {done}. It drags or knocks: find out why before the power comes on.",
	}},
	{session.LeaveStock, nil, "", []string{
		"This wind leaves a little metal on for the first cut, so that the arc can be measured and put right before it is to size.",
		"Spindle stopped, cutter lifted clear, then unlock. Wind as told, the last movement only as told, stop at the figure and lock.",
		"Then {done}. Gone too far: back off half a turn, and come up again.",
	}},
	{session.FreeHead, nil, "", []string{
		"The {swung}'s own lock was closed for the last reading. It is moved by hand from now on.",
		"Still isolated, open that lock and see that the {swung} goes round with the drag that it had in the sweep.",
		"Then {done}.",
	}},
	{session.SetStops, nil, "", []string{
		"Where the swing begins and ends is where the arc ends: beyond that the cutter gouges the neighbour, and no metal comes back; " +
			"short of it a little stands proud, which can be cut away.",
		"Still isolated, set the {swung}'s stops to the two figures that are told, rather short of them than past: the {swung} is read where " +
			"it rests against each. Where a hard stop is told, the ring is too coarse: clamp a block, and measure from it.",
		"Then {done}. The {swung} has no stops: clamp a block at either end.",
	}},
	{session.DrySwing, (*moment).stopped, "to stops", []string{
		"One pass through the whole arc without power shows what the cutter, the head or a clamp would run into, and whether the stops hold.",
		"Still isolated, work and head clamped, the cutter just above the work. Swing by the handle from stop to stop, in the sense that is " +
			"told, and watch column, clamps and stops.",
		"It stopped where it should: {done}. Or type what the ring shows at the stop{enter}: it is held against what may be let pass.",
		"It touches anything: move that, and swing the whole arc again.",
	}},
	{session.DryTurn, (*moment).stopped, "to stops", []string{
		"One pass through the whole arc without power shows what the cutter or a clamp would run into, and whether the stops hold.",
		"Still isolated, the work clamped, the cutter just above it. Turn the table by its handle from stop to stop, in the sense that is " +
			"told, and watch clamps and stops.",
		"It stopped where it should: {done}. Or type what the ring shows at the stop{enter}: it is held against what may be let pass.",
		"It touches anything: move that, and turn through the whole arc again.",
	}},
	{session.DrySwing, nil, "", []string{
		"One pass through the whole arc without power shows what the cutter, the head or a clamp would run into.",
		"Still isolated, work and head clamped, the cutter just above the work. Swing by the handle from the start to the stop that are " +
			"told, in the sense that is told, and watch column, clamps and stops.",
		"Then {done}. It touches anything: move that, and swing the whole arc again.",
	}},
	{session.DryTurn, nil, "", []string{
		"One pass through the whole arc without power shows what the cutter or a clamp would run into as the table turns.",
		"Still isolated, the work clamped, the cutter just above it. Turn the table by its handle from the start to the stop that are " +
			"told, in the sense that is told, and watch clamps and stops.",
		"Then {done}. It touches anything: move that, and turn through the whole arc again.",
	}},
	{session.Power, deep, "before a pass", []string{
		"From here on the cutter turns: it grabs if it is fed the wrong way round, or meets the metal at a standstill.",
		"Every depth counts from the top of the stock: touch the cutter to it on a slip of paper while the spindle is isolated, and set the " +
			"quill's scale or stop to zero there, less the paper.",
		"Then up, back to where the cutter goes down, the table cleared of everything; power, with your hands at the handle and nowhere " +
			"else.",
		"Then {done}. Anything sounds or smells wrong: stop, isolate, and look.",
	}},
	{session.Power, nil, "", []string{
		"From here on the cutter turns: it grabs if it is fed the wrong way round, or meets the metal at a standstill.",
		"Go back to the start with the cutter clear of the metal, set the depth, lock the quill, and clear the table of everything. Then " +
			"power, with your hands at the handle and nowhere else.",
		"Then {done}. Anything sounds or smells wrong: stop, isolate, and look.",
	}},
	{session.RoughCut, nil, "", []string{
		"This cut leaves stock on; it shows what cutter and setting really make.",
		"From the start to the stop, in the sense that is told and never against it, evenly, hands at the handle. At the stop, stop the " +
			"spindle or lift the cutter clear before you go back.",
		"Then {done}. It chatters or grabs: stop the spindle first, then find out why.",
	}},
	{session.Pass, func(m *moment) bool { return m.pass().Spring }, "that springs", []string{
		"The cutter was pushed aside by what it cut, and comes back by it: the same way once more, nothing wound, takes that off.",
		"The quill stays locked at the full depth. Start, sense and stop as in the pass before; feed evenly, it takes very little.",
		"Lift out at the stop before you go back. Then {done}.",
	}},
	{session.Pass, func(m *moment) bool { return m.pass().Whole }, "at the full depth", []string{
		"What is left on is light for this cutter, and taken off the whole depth at once the wall has no lines from steps.",
		"Your flutes have to be longer than the depth. They are shorter, or it chatters: go down by a step at a time over the same way, " +
			"then once at the full depth.",
		"Come up to the start in the sense that is told, feed against the cutter, small where it goes in and comes out (common practice, " +
			"no source); at the stop lift out before you go back.",
		"Then {done}.",
	}},
	{session.Pass, nil, "", []string{
		"A deep cut is made in passes, each as deep as the cutter bears: the depth is told from the top of the stock.",
		"Go down where there is nothing to spoil: off the part, in a drilled hole, or in the waste with a cutter that cuts across its " +
			"middle. Lock the quill at the depth, and come up to the start in the sense that is told.",
		"Feed by hand, against the cutter, small where it goes in and comes out (common practice, no source). How fast, your cutter and " +
			"the metal say: it must cut, not rub, and never pull.",
		"At the stop lift the cutter out before you go back: back in the cut it climbs, and grabs. Then {done}.",
	}},
	{session.LiftOut, nil, "", []string{
		"A slide that is wound with the cutter in the metal drags it into the wall; and nobody measures near a cutter that turns.",
		"Raise the quill until the cutter is clear of the work, then stop the spindle and wait until it stands. Leave every other lock " +
			"closed.",
		"Then {done}.",
	}},
	{session.Measure, nil, "", []string{
		"The arc with its stock on tells how far the cutter is from where it should be; the last wind is made from it.",
		"Spindle stopped and isolated, burrs off, work cool. Measure the radius, type it{enter}; or what your tools measure: {ways}.",
		"What it should be is not shown before, so that it cannot pull your hand. A figure that is far off is asked for once more.",
	}},
	{session.LastWind, nil, "", []string{
		"This wind goes from the radius that was measured to the finished one.",
		"Spindle stopped, cutter lifted clear, then unlock. Wind as told, the last movement only as told, stop at the figure and lock.",
		"Then {done}. Gone too far: back off half a turn, and come up again; metal that is off does not come back.",
	}},
	{session.Cut, nil, "", []string{
		"This cut brings the arc to size.",
		"From the start to the stop, in the sense that is told and never against it, evenly; then once more over the same way without " +
			"winding anything, for what the cutter has sprung away.",
		"At the stop, stop the spindle or lift the cutter clear before you go back. Then {done}.",
	}},
	{session.CutterOut, nil, "", []string{
		"The indicator takes the cutter's place once more, to see where things stand now.",
		"Still isolated, lift the cutter clear of the metal, take it out, and the spanner off the drawbar. Open no lock of a slide, wind none.",
		"Then {done}. You cannot lift it clear without winding: swing it out of the cut first.",
	}},
	{session.TouchTop, nil, "", []string{
		"The cutter has been out, and sits a little higher or lower now: every depth counts anew from the top of the stock.",
		"Touch the cutter to it on a slip of paper, still isolated, where the top is not cut yet, and set the quill's scale or stop to zero " +
			"there, less the paper. Then up, clear above the work.",
		"Then {done}.",
	}},
	{session.StopsOff, nil, "", []string{
		"The stops are set for the arc, and the sweep goes round past them: run against one, it shifts, or the {swung} is forced.",
		"Still isolated, open both stops and move them out of the way. Note their figures if you like: they are told again.",
		"Then {done}. They are set again before the cutter comes near the metal.",
	}},
	{session.IndicatorIn, func(m *moment) bool { return m.s.Bump == nil && m.s.Part > 1 }, "for the next part", []string{
		"The offset slide holds the swing radius, which this sweep cannot see: wound now, it would be lost, and nobody would know.",
		"It is the indicator that gives way. Move it on its holder, or swing it in on its bracket, until the needle stands about amid its " +
			"range; its zero need not be what it was. Is the hole out of its reach? Move the holder, never the offset slide.",
		"Then {done}.",
	}},
	{session.IndicatorIn, nil, "", []string{
		"The needle compares each station with what it read in the accepted sweep. What is wound now would look like a move.",
		"Bring quill and knee to the height of that sweep and lock them. Move the indicator on its holder until the needle stands about amid " +
			"its range; its zero need not be what it was.",
		"Then {done}.",
	}},
	{session.CheckArc, nil, "", []string{
		"The finished arc is measured: it closes this setting, and the next radius starts nearer by what it shows.",
		"Spindle stopped and isolated, burrs off, work cool. Measure the radius and type it{enter}; or what your tools measure: {ways}.",
		"What it should be is not shown before, so that it cannot pull your hand.",
	}},
}
