package lines

import (
	"slices"
	"strings"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// explained is what is asked, told to somebody who meets it for the first time: what it is for, what the hand does, where it
// stops, and what to do where it goes wrong. What stands in braces is a deed (see [Speech]), or a word of the set-up; a
// sentence whose deed cannot be done now is left out.
type explained struct {
	// what heads the page.
	what string
	// asked says whether it is this.
	asked func(*moment) bool
	says  []string
}

// moment is what an explanation is chosen by.
type moment struct {
	s *session.State
	p *session.Prompt
	// verdicts are on what stands, leans what an "inside" does so on; only where it waits to be accepted.
	verdicts      indicator.Verdicts
	short, unsaid string
}

func (m *moment) waits(w session.Waits) bool        { return m.p.Waits == w }
func (m *moment) figured() bool                     { return figured(m.s, &m.p.Wind) && m.by(session.ByCollar) }
func (m *moment) by(h session.How) bool             { return m.waits(session.ForWind) && m.p.Wind.How == h }
func (m *moment) reads() bool                       { return m.waits(session.ForReading) }
func (m *moment) pair() bool                        { return m.s.SetUp().Under().Pair }
func (m *moment) judged(has indicator.Verdict) bool { return m.verdicts.Has(has) }

// explanations are looked through for the first that is asked; the steps of the order at the machine, by their names, come
// before them, and the last always is.
var explanations = []explained{
	{"taking up the backlash", func(m *moment) bool { return m.waits(session.ForLoad) }, []string{
		"This takes up one slide's backlash before anything is read, so that every wind later starts from a known side.",
		"Keep the tip clear of the work. Back the handle off as told, then come up as told, and stop there: the last movement always goes " +
			"the same way.",
		"Gone too far? Back off once more, well past, and come up again; never creep back.",
		"Then {done}, only once your own hand has done it.",
	}},
	{"which number that was", func(m *moment) bool { return m.p.Wind.Which != nil }, []string{
		"The number that was typed is far from where the needle was to stop, and just what the next station would read.",
		"The sweep had been closed before all its stations were in, because it had shown enough; it is easy to read on.",
		"It was that station's reading: {station}. The sweep goes on with it.",
		"The slide really stopped there: {stopped}. Or type what the dial shows now{enter}.",
	}},
	{"whether it has moved", func(m *moment) bool { return m.reads() && m.s.Bump != nil }, []string{
		"A station of the accepted sweep is read once more. Three of them show how far the centre has moved since, wherever the dial's " +
			"zero is now.",
		"{swing} to it, the way you did in the sweep, hand off, then {read}{enter}. Wind nothing.",
		"Needle off the dial: {off}. Something is in the way there: {skip}.",
		"Mistyped: {undo} takes it back.",
	}},
	{"a look between two winds", func(m *moment) bool { return m.reads() && m.p.Reading.Between }, []string{
		"The sweep was a coarse one, and the winds were long: a reading between them shows how far they have carried the axis aside, so " +
			"that the next ones need not be guessed.",
		"{swing} to the place that is named, hand off, then {read}{enter}. Wind nothing.",
		"Needle off the dial: {off}. That, or a figure far from what the winds should give, shows that one of them did not do what was " +
			"told: nothing more is wound by them, and the sweep begins anew.",
		"Something is in the way there: {skip}. Mistyped: {undo} takes it back.",
	}},
	{"a doubtful point", func(m *moment) bool { return m.reads() && m.p.Reading.Again && m.pair() }, []string{
		"This point does not lie on the circle of the others: a slip of a finger, dirt on the wall, or a slanting touch.",
		"Wipe the wall, touch there once more with the same light pressure, and {xy}; the new point takes the old one's place, and " +
			"both stay on record.",
		"It comes out the same: {keep} lets it stand. {skip} goes on without it.",
	}},
	{"a reading in doubt", func(m *moment) bool { return m.reads() && m.p.Reading.Again }, []string{
		"This reading does not fit the others: a slip of the eye, a whole turn of the needle, a wrong sign, or something moved.",
		"{swing} back to it, come to it the way you always do, hand off, and read it afresh; type it{enter}. Both figures stay on record.",
		"The dial shows the same once more: {keep} lets it stand.",
		"You know that it was misread: {correct}.",
		"Something is in the way there: {skip} goes on without it.",
	}},
	{"the closing reading", func(m *moment) bool { return m.reads() && m.p.Reading.Closing }, []string{
		"The first station once more, at the end of the sweep. The same figure as at first says that nothing has moved meanwhile.",
		"{swing} on to it in the same sense, hand off, then {read}{enter}. Don't steer towards the old figure.",
		"Where it differs, you are told by how much, and asked what to do about it.",
		"Mistyped something before: {undo} takes the last entry back.",
	}},
	{"a second height, for the tilt", func(m *moment) bool { return m.reads() && m.s.Raising != nil }, []string{
		"The same stations again at another height: if the centre lies elsewhere there, the spindle or the work leans, and a cut made at " +
			"another height would be off by that.",
		"Move quill or knee by the height that you named, lock, and wind nothing. Then read as in the sweep before: {swing} to the " +
			"station, hand off, {read}{enter}.",
		"Needle off the dial: {off}.",
		"Mistyped: {undo} takes it back, and at the beginning the second sweep with it.",
	}},
	{"touching a point", func(m *moment) bool { return m.reads() && m.pair() }, []string{
		"Points touched all round on the wall give the centre by the readouts, and the size of the hole or boss with it.",
		"Go to about the place that is named, wipe the wall, touch it square with the same light pressure each time, and {xy} as the " +
			"readouts show them. The tip's own radius is allowed for.",
		"Never zero a readout between two points.",
		"Mistyped: {undo} takes it back.",
		"You cannot get there: {skip}.",
		"Enough are touched: {enough}.",
	}},
	{"a station of the verifying sweep", func(m *moment) bool { return m.reads() && verifies(m) }, []string{
		"Slides have been wound since the last sweep. This one shows where that has led: nothing is accepted on the winds alone.",
		"{swing} to the place that is named, always the same way round, hand off, then {read}{enter}. What " +
			"was expected is told afterwards.",
		"Needle off the dial: {off}.",
		"Mistyped: {undo} takes it back.",
		"Something is in the way there: {skip}.",
	}},
	{"a reading at a station", (*moment).reads, []string{
		"Each reading tells how far the wall is from the axis in one direction. Several all round show where the centre lies, and how " +
			"large the swing is.",
		"{swing} to the place that is named, always the same way round, hand off, then {read}, with its sign{enter}.",
		"Needle off the dial: {off}.",
		"Mistyped: {undo} takes it back.",
		"Something is in the way there: {skip}.",
		"Enough are in: {enough}.",
	}},
	{"tapping the work over", func(m *moment) bool { return m.by(session.ByTap) }, []string{
		"No slide carries the work here: it lies loose on the table, and light taps drive it over the axis while the needle shows how far.",
		"Turn the table to the figure that is told, keep a soft hammer, and tap the side that is named until the needle stands at its " +
			"goal. Stop a little short rather than beyond.",
		"Then type what the dial shows{enter}: the next tap is told from there.",
		"Gone beyond? Tap from the other side. The needle has left the dial, or the work has jumped: {again}.",
		"Clamp the work before the sweep that proves it, and not harder than in the cut.",
	}},
	{"going back over the reference", func(m *moment) bool { return m.away() && m.p.Wind.Told.Back }, []string{
		"Before another sweep the axis has to stand over the reference again: each slide goes back by the way that it came.",
		"Keep the tip clear of the work. Wind as told, the last movement only as told, and stop at the figure; then {done}.",
		"Gone too far: back off well past, and come up again.",
	}},
	{"going on to the arc's centre", (*moment).away, []string{
		"The reference is found. There is nothing to sweep about the arc's centre, so the slides go there by the drawing's distance from " +
			"the reference's centre, turned as the drawing lies to them; no sweep can see this way.",
		"Bring the tip clear of the work first, for the slides go far, and watch column and clamps on the way.",
		"It is as true as the readouts or the collars that you go by, and as the angle that was clocked: wind as told, the last movement " +
			"only as told, stop at the figure and lock.",
		"Then {done}, or type where it stands where the readout shows something else{enter}.",
		"Gone too far: back off well past, and come up again. It was another reference that you swept: {again}.",
	}},
	{"going back over the axis", func(m *moment) bool { return m.waits(session.ForWind) && m.p.Wind.Told.Back }, []string{
		"Before another sweep the spindle has to stand over the axis again: it goes back by the way that it came.",
		"Bring the tip clear of the work first. Wind as told, the last movement only as told, and stop at the figure; then {done}.",
		"Gone too far: back off well past, and come up again.",
	}},
	{"carrying the spindle off the axis", func(m *moment) bool { return m.waits(session.ForWind) && m.p.Wind.Told.SetOff }, []string{
		"The centre is found. Now one slide carries the spindle off the axis by the swing radius; no sweep can see this way.",
		"Bring the tip clear of the work first: it still stands in the bore, and the slide goes far.",
		"So it is as true as the readout or the collar that you go by: wind as told, the last movement only as told, stop at the figure " +
			"and lock. Leave the other slide alone.",
		"Then {done}, or type where it stands where the readout shows something else{enter}.",
		"Gone too far: back off well past, and come up again.",
	}},
	{"a wind to a coordinate", func(m *moment) bool { return m.by(session.ByCoordinate) }, []string{
		"The readouts tell where the centre is. This brings one slide to its coordinate.",
		"Where two movements are told, the first backs off and the last comes up. Stop when the readout shows the figure, and lock.",
		"Type where it stands then{enter}, or {done} where it stands there to the last place.",
		"Gone too far: back off well past, and come up again. A readout was zeroed since the points were touched: {again}, for the " +
			"coordinates hold no longer.",
	}},
	{"a wind under the needle", func(m *moment) bool { return m.by(session.UnderNeedle) }, []string{
		"This wind brings one slide to where the sweep says, and the needle shows when it is there: collar and backlash do not matter.",
		"First park the {swung} where it is told. Then wind the way that is told; where two readings are told, the first movement backs " +
			"off to the first, and the last comes up to the goal. Stop there and lock the slide under the needle.",
		"After locking {wound}.",
		"The needle goes the wrong way, or leaves the dial: stop, then {off}.",
		"Gone beyond the goal? Back off well past it and come up again; never creep back.",
	}},
	{"a collar that keeps its figures", func(m *moment) bool { return m.p.Wind.Reads }, []string{
		"The slide that comes next is wound by its collar, which is never set to 0: the wind goes from the figure that it shows to another.",
		"Read the collar as it stands, in divisions to the tenth, and type that{enter}. Don't turn the handle for it.",
		"It is carried on from there through the winds, and asked for again only where a slide was stopped by something else than its collar.",
	}},
	{"a wind from figure to figure", func(m *moment) bool { return m.figured() }, []string{
		"This wind brings one slide to where the sweep says, counted on the figures of the handle's own collar.",
		"See that the collar shows the figure that the wind starts at. Then make the movements in their order: where there are two, the " +
			"first backs off past the goal, and the last comes up to it.",
		"Stop at the figure that is told, lock the slide, then {done}.",
		"The collar shows another figure before you begin? Stop, and say so: collar, the slide, the figure.",
	}},
	{"a wind by the collar", func(m *moment) bool { return m.waits(session.ForWind) }, []string{
		"This wind brings one slide to where the sweep says, counted on the handle's own collar. Where it is told first, bring the tip " +
			"clear or swing: where it stands the needle would leave the dial on the way.",
		"Set the collar to 0 where it can be set. Then make the movements in their order: where there are two, the first backs off past " +
			"the goal, and the last comes up to it, so that the backlash lies on the same side as ever.",
		"Stop at the division that is told, lock the slide, then {done}.",
		"Gone too far: back off half a turn and come up again. The wrong handle: wind it back by as much, ending the same way as ever, " +
			"before you go on.",
	}},
	{"a size that is not as stated", func(m *moment) bool { return m.waits(session.ForSize) }, []string{
		"The touched points lie on a circle of another size than the one that is stated, by more than can be explained; so nothing is " +
			"wound by them.",
		"First see to the tip: its diameter, and which side of the wall it touched. Then think of the point that is named, if one is.",
		"Answer with the number of a line{enter}: a point to be touched again, the size that was touched, or all points anew.",
		"The last point was mistyped: {undo} takes it back.",
	}},
	{"readings that drifted", func(m *moment) bool { return m.waits(session.ForDrift) }, []string{
		"The first station read otherwise at the end of the sweep than at its beginning: something crept, or jumped.",
		"Look for it: a lock that stands open, a stem that slips, warm hands or oil, the drag of the {swung}.",
		"A steady creep: {even} takes it out of all readings. {leave in} leaves it in, and the doubt grows.",
		"A jump, or something that you have found and put right: {again}.",
	}},
	{"which statement is wrong", func(m *moment) bool { return m.waits(session.ForCheck) && m.p.Check.Plan.Slide == "" }, []string{
		"A wind led elsewhere than it should, and checking signs cannot tell the causes that are left from one another.",
		"Go by what you can see: which way the handle drives the slide, which side of the wall the tip touches, where the ring has its zero.",
		"You are certain of one: {restate}; a new sweep follows, and what to write into the file is told.",
		"None of them: {skip}. The winds then go on as stated, and may go astray once more.",
	}},
	{"checking a sign", func(m *moment) bool { return m.waits(session.ForCheck) }, []string{
		"A wind led elsewhere than it should, so something stated is wrong: most often which way a handle drives its slide. Nothing " +
			"more is wound on it until that is known.",
		"Park the {swung} where it is told, then wind the slide that is named the way that is told, and watch the needle. Stop at the " +
			"backlash and half a turn, or where the handle goes stiff.",
		"Answer 1 where the figure grew, 2 where it fell, 3 where it stood still, 4 where it moved only on the way back{enter}.",
		"It stood still: is that slide clamped, is it the right handle, does the tip touch?",
		"The handle was just turned the wrong way: answer the check all the same, and a new sweep follows. Nothing is put right unless the " +
			"check says so, or you can see it: {restate}.",
		"You cannot check now: {skip}.",
	}},
	{"the way back", func(m *moment) bool { return m.waits(session.ForBack) && len(m.p.Back.Winds) > 0 }, []string{
		"The needle is off the dial all round, so the sweep shows nothing. The last winds are taken back, to where the needle was on it.",
		"Where the tip is pressed hard, bring it clear first. Then wind the handles as told, the newest wind first.",
		"Then {done}: a sign is checked before anything is wound again.",
		"A station was entered as off the dial by mistake: {undo} takes it back.",
	}},
	{"nearer by scale", func(m *moment) bool { return m.waits(session.ForBack) }, []string{
		"The needle is off the dial all round, and nothing has been wound yet: the spindle stands too far off for the dial.",
		"Bring the tip clear. Set the radius and the centre nearer by scale, collar or an edge finder, to about 1 mm.",
		"Then {done}; the backlash is taken up again, and the sweep begins anew.",
		"A station was entered as off the dial by mistake: {undo} takes it back.",
	}},
	{"what has moved", func(m *moment) bool { return m.waits(session.ForMoved) }, []string{
		"A few stations were read once more and compared with the accepted sweep. The centre no longer lies inside for certain.",
		"Look for what gave way: a clamp, a lock, the fixture. Set that right first.",
		"To bring the centre back: {again}. The old setting is then no longer accepted, and what has moved is wound back as ever.",
		"You go on as it stands: {keep}. It stays on record.",
		"A figure was mistyped: {undo} takes the last one back.",
	}},
	{"no circle", func(m *moment) bool { return m.waits(session.ForAgain) }, []string{
		"No circle fits these readings, or too few are left, and there is no further station to ask for.",
		"Look through the list for a figure with the wrong sign, or a whole turn of the needle off. {undo} takes the last entry back, " +
			"and then the one before.",
		"Nothing strikes you: see that the tip moves freely and everything is locked, then {again}.",
	}},
	{"settled: it cannot be decided yet", func(m *moment) bool {
		return m.waits(session.ForAccept) && (m.judged(indicator.Undecided) || m.unsaid != "")
	}, []string{
		"No wind would help any more, and yet the doubt is larger than what is left of the tolerance: inside or outside, nobody can say.",
		"The largest error is named. If it is the readings, sweep again with a steadier hand: {again}. If it is a figure " +
			"that nobody has put a limit to, find that one out: spin the reach, measure the reference.",
		"{accept} takes the setting as it is; it is kept as undecided, on the sheet too. Leave stock then, and measure the first arc.",
	}},
	{"settled: inside, if what nobody has stated is right", func(m *moment) bool { return m.waits(session.ForAccept) && m.short != "" },
		[]string{
			"Inside the tolerance with the doubt of the readings, as long as the figures named with the verdict are right. Nobody has said how " +
				"right they are, and no sweep can see it.",
			"It is told how far off they may be. Spin the reach, or measure the reference; or leave stock on and measure the first arc.",
			"{accept} takes the setting with that if; it is kept, on the sheet too.",
			"You don't trust it: {again}. Another height shows whether it leans: {height}.",
		}},
	{"settled", func(m *moment) bool { return m.waits(session.ForAccept) }, []string{
		"Nothing is left to wind: what you aimed at stands inside its tolerance with the doubt counted in, where it says inside.",
		"Look once that every lock is closed and the needle has not moved. {accept} ends the setting.",
		"You don't trust it: {again}. Another height shows whether it leans: {height}.",
		"The last entry was wrong: {undo} takes it back.",
	}},
	{"the setting is accepted", func(m *moment) bool { return m.s.Accepted() }, []string{
		"The setting is accepted and kept, and nothing more is asked here.",
		"Nothing is cut before the indicator is out, the cutter tight, and one dry pass made by hand with the power off.",
		"{part}: the next part on this setting.",
		"What was wound and read can be looked at: trial by trial on the page of trials, and later in the replay and the report.",
		"{quit} leaves; nothing is lost.",
	}},
	{"nothing is asked", func(*moment) bool { return true }, []string{
		"Nothing is asked at this moment.", "{quit} leaves; nothing is lost.",
	}},
}

// Explained is the explanation of what is asked: what it is of, and its sentences.
func Explained(s *session.State, p *session.Prompt, sp Speech) (what string, sentences []string) {
	m := &moment{s: s, p: p}
	if m.waits(session.ForAccept) {
		if f, err := s.Fit(); err == nil {
			m.verdicts = s.Verdicts(&f)
			m.short, m.unsaid = record.LeansOf(s, &f).Short(m.verdicts, s.Set.Job.Unit)
		}
	}
	e := explanation(m)
	now := s.Now(p)
	for _, said := range e.says {
		if text, ok := spoken(said, s, &now, sp); ok {
			sentences = append(sentences, text)
		}
	}
	if p.Needle() && s.Set.Job.Dial.WholeNumbers == indicator.Thousandths {
		sentences = append(sentences, "A whole number is thousandths here, as the job says: 12 is 0.012 in. With a point it is inches.")
	}
	return e.what, sentences
}

func explanation(m *moment) explained {
	for _, all := range [][]explained{choreExplained, explanations} {
		if i := slices.IndexFunc(all, func(e explained) bool { return e.asked(m) }); i >= 0 {
			return all[i]
		}
	}
	return explained{}
}

// spoken fills in what stands in braces; ok is false where a deed cannot be done now.
func spoken(said string, s *session.State, now *session.Now, sp Speech) (text string, ok bool) {
	for {
		begin := strings.IndexByte(said, '{')
		if begin < 0 {
			return text + said, true
		}
		end := begin + strings.IndexByte(said[begin:], '}')
		name := said[begin+1 : end]
		words, ok := swung(s, name)
		if ok && text == "" && begin == 0 { // a word that is typed keeps its small letter
			words = strings.ToUpper(words[:1]) + words[1:]
		}
		if !ok {
			words, ok = sp.say(name, s, now)
		}
		if !ok {
			return "", false
		}
		text, said = text+said[:begin]+words, said[end+1:]
	}
}

// swung are the words of the set-up in a sentence.
func swung(s *session.State, name string) (words string, ok bool) {
	if name != "swung" && name != "swing" {
		return "", false
	}
	u := s.SetUp()
	what, how := u.Swung, "swing"
	switch {
	case u.Does().Turns:
		what, how = "spindle", "turn"
	case u.Under().Table:
		how = "turn"
	}
	if name == "swing" {
		return how + " the " + what, true
	}
	return what, true
}

// HelpLine is an explanation that was asked for.
type HelpLine struct {
	Say string `json:"say"`
	// Text are its sentences.
	Said string `json:"text"`
}

// Text: see [Line].
func (l HelpLine) Text() string { return l.Said }

// Help explains what the session waits for, in the words that are typed.
func Help(s *session.State, p *session.Prompt) HelpLine {
	what, sentences := Explained(s, p, Speech{})
	return HelpLine{"help", what + ". " + strings.Join(sentences, " ")}
}
