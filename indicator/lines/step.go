package lines

import (
	"errors"
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

// Refused says why an input was not taken.
func Refused(input string, err error) RefusedLine {
	l := RefusedLine{Say: "refused", Input: input, Because: err.Error()}
	if r := (*session.Refusal)(nil); errors.As(err, &r) {
		l.Hint = r.Hint
	}
	return l
}

// Resumed says where a resumed session stands.
func Resumed(s *session.State) ResumedLine {
	return ResumedLine{Say: "resumed", Trial: s.Trial, Readings: s.Sweep.Readings()}
}

// Paused says how many lines the journal holds.
func Paused(events int) PausedLine { return PausedLine{Say: "paused", JournalLines: events} }

// Of returns what the program says of one step, in unit u: what the event itself brings, and
// the next question unless something more is due.
func Of(st session.Step, u geom.Unit) []Line {
	out := append(event(st, u), odd(st, u)...)
	if _, due := session.Follow(st.After); !due {
		if p := Prompt(&st.After, u); p != nil {
			out = append(out, p)
		}
	}
	return out
}

// event says what one event brings, without the next question.
func event(st session.Step, u geom.Unit) []Line {
	s := &st.After
	switch e := st.Event.(type) {
	case session.Took:
		out := []Line{reading(s, e, u)}
		// The planned stations are in and the sweep goes on: say what there is, so that the
		// further station does not come out of the blue.
		if s.Doubt == nil && s.Sweep.Closed == "" && s.Sweep.Entries() >= s.Set.Job.Sweep.Stations && !closes(s) {
			out = append(out, fitLine(s, u))
		}
		return out
	case session.Skipped:
		return []Line{Skip{Say: "skipped", Trial: s.Trial, Station: number(s, e.Again), Bearing: degrees(e.Bearing), Off: e.Off, place: place(s, e.Bearing)}}
	case session.Doubted:
		l := DoubtLine{Say: "doubt", Trial: s.Trial, Station: e.Station, Because: e.Because, WouldBe: Number(nan), unit: u,
			places: ReadingPlaces(s.Set.Job.Dial, u)}
		if e.WouldBe != nil {
			l.WouldBe = Number(u.From(*e.WouldBe))
		}
		if e.WouldBeAt != nil {
			l.WouldBeAt = placeOf(geom.Point(*e.WouldBeAt), u)
		}
		return []Line{l}
	case session.Kept:
		return []Line{KeptLine{Say: "kept", Trial: s.Trial, Station: e.Station}}
	case session.Wound:
		return wound(st, e, u)
	case session.Worked:
		return []Line{did(st, e, u)}
	case session.Opened:
		out := Taught(s.Lessons, u)
		if l := Start(s, u); l != nil {
			out = append(out, l)
		}
		if l := Feedback(s, u); l != nil {
			out = append(out, l)
		}
		return out
	case session.Biased:
		return []Line{biased(s, e, u)}
	case session.StoodAt:
		return []Line{AtLine{"at", s.Trial, e.Slide, Number(u.From(e.At)), u}}
	case session.BezelSet:
		d := s.Set.Job.Dial
		return []Line{BezelLine{"bezel", s.Trial, Number(u.From(e.Showed)), Number(u.From(e.Shows)),
			fmt.Sprintf("the dial is set anew: what showed %s %v shows %s now", Reading(d, u, e.Showed), u, Reading(d, u, e.Shows))}}
	case session.Raised:
		return []Line{HeightLine{"height", s.Trial, Number(u.From(e.Height)), u}}
	case session.Tilted:
		return []Line{tilt(s, e, u)}
	case session.Sensed:
		return []Line{sensed(s, e)}
	case session.Held:
		return []Line{HeldLine{"held", s.Trial, Number(u.From(e.Radius)), Number(u.From(e.Limit)), u}}
	case session.Paired:
		if p, ok := s.Pair(); ok {
			return []Line{FitLine{Say: "fit", Trial: s.Trial, Fit: NewPair(&p, s.Set.Job.Setup, u)}}
		}
	case session.Released:
		return []Line{HeldLine{"released", s.Trial, Number(nan), Number(nan), u}}
	case session.Evened:
		return []Line{EvenedLine{Say: "evened", Trial: s.Trial}}
	case session.Swept:
		if l, ok := suspect(s, u); ok {
			return []Line{fitLine(s, u), l}
		}
		return []Line{fitLine(s, u)}
	case session.Accepted:
		return []Line{AcceptedLine{Say: "accepted", Trial: s.Trial, Trials: s.Trial}}
	case session.Undone:
		return []Line{undone(s, st.Before.LastEntry())}
	case session.Restarted:
		return []Line{AgainLine{Say: "again", Trial: s.Trial, Because: "the sweep begins anew"}}
	case session.Noted:
		return []Line{NotedLine{Say: "noted", Note: e.Text, About: e.About}}
	case session.Loaded, session.Told, session.Settled, session.ClosingAsked, session.Drifted:
		// Their sequel, the next question, says it all.
	}
	return nil
}

// undone says what is taken back; nothing where a damaged journal takes back what is not there.
func undone(s *session.State, entry session.Event) Line {
	l := UndoneLine{Say: "undone", Trial: s.Trial}
	if entry != nil {
		l.Entry, l.what = session.Kind(entry), session.UndoWords(entry)
	}
	return l
}

func closes(s *session.State) bool {
	_, due := session.Follow(*s)
	return due
}

// number is the station that an entry went to: the one asked for once more, or the last.
func number(s *session.State, again int) int {
	if again > 0 {
		return again
	}
	return s.Sweep.N
}

func reading(s *session.State, e session.Took, u geom.Unit) Line {
	n, places := number(s, e.Again), ReadingPlaces(s.Set.Job.Dial, u)
	l := ReadingLine{Say: "reading", Trial: s.Trial, Station: n, Bearing: degrees(e.Bearing), Value: Number(u.From(e.Reading)),
		text: fmt.Sprintf("station %d, %s: %s %v", n, place(s, e.Bearing), Reading(s.Set.Job.Dial, u, e.Reading), u)}
	if e.At != nil {
		at := placeOf(geom.Point(*e.At), u)
		l.Value, l.Point = Number(nan), at
		l.text = fmt.Sprintf("point %d: %s", n, at.text(places, u))
	}
	if e.Corrected {
		l.text += ", as proposed"
	}
	if n < 1 || n > s.Sweep.N {
		return l // a damaged journal: there is no such station
	}
	st := &s.Sweep.Stations[n-1]
	if st.OffBy.Known() {
		l.text += fmt.Sprintf(", off by %s %v", geom.FormatSigned(u.From(st.OffBy.V), places), u)
	}
	if !st.Surprise {
		return l
	}
	l.Surprise = true
	why := string(st.Because)
	l.Because = &why
	l.text += ": " + SlipWords(st.Because)
	if !math.IsNaN(st.WouldBe) {
		would := Number(u.From(st.WouldBe))
		l.WouldBe = &would
		l.text += fmt.Sprintf(" then it would be %s %v", geom.FormatFixed(float64(would), places), u)
	}
	return l
}

func fitLine(s *session.State, u geom.Unit) Line {
	l := FitLine{Say: "fit", Trial: s.Trial}
	f, err := s.Fit()
	if err != nil {
		l.Fit = failedFit(s.Set.Job.Setup, s.Sweep.Readings(), err, u)
		return l
	}
	if s.Set.Job.Setup.Kind == indicator.Points {
		l.Fit = touchedFit(s, u)
		return l
	}
	bearings, readings, station := s.Readings(&f)
	l.Fit = NewFit(&f, bearings, readings, s.Judge(&f), u)
	if s.Set.Bearings == session.ByRing && !isNaN(l.Fit.Bearing) {
		ring := Number(s.RingAt(f.Circle.Centre.Bearing()))
		l.Fit.Ring = &ring
	}
	for i := range l.Suspects {
		l.Suspects[i].Reading = station[l.Suspects[i].Reading-1]
	}
	return l
}

// table is how far the table stands turned counter-clockwise for what is asked; not known where the head
// is swung.
func table(s *session.State, p *session.Prompt) Number {
	if s.Set.Job.Setup.Kind != indicator.Turned {
		return Number(nan)
	}
	return degrees(p.Table)
}

// place is how the hand finds a bearing: by what the table's ring shows, or by the bearing itself.
func place(s *session.State, b geom.Bearing) string {
	return PlaceIn(s, b, s.Set.Bearings)
}

// PlaceIn is place by the figures that are wanted, labelled where they are not the usual ones.
func PlaceIn(s *session.State, b geom.Bearing, by session.Bearings) string {
	turned := s.Set.Job.Setup.Kind == indicator.Turned
	switch {
	case by == session.ByFrame:
		return "bearing " + Degrees(b.Degrees360())
	case by == session.ByRing || turned:
		if m, ok := s.Ring().Mark(s.RingAt(b)); ok && by == session.ByRing {
			return RingWords(s.RingAt(b), &m)
		}
		return "ring " + Degrees(s.RingAt(b))
	}
	return Degrees(b.Degrees360())
}

// vernier is how the ring is set with its vernier; nil where it has none.
func vernier(s *session.State, p *session.Prompt) *slide.Mark {
	if m, ok := s.Ring().Mark(p.Ring); ok && (s.Set.Job.Setup.Kind == indicator.Turned || s.Set.Bearings == session.ByRing) {
		return &m
	}
	return nil
}

// turn is where the table has to stand for a handwheel to be reached; nil where it can be anywhere.
func turn(s *session.State, p *session.Prompt) *Turn {
	if !p.Set {
		return nil
	}
	return &Turn{table(s, p), Number(p.Ring), vernier(s, p)}
}

func degrees(b geom.Bearing) Number { return Number(b.Degrees360()) }

// Prompt says what the session waits for; nil where it waits for nothing.
func Prompt(s *session.State, u geom.Unit) Line {
	p := s.Prompt()
	switch p.Waits {
	case session.ForLoad:
		return Load{Say: "load", Slide: p.Slide.Name, Moves: hand(p.Moves), Turn: turn(s, &p), shown: p.Slide}
	case session.ForReading:
		if p.Touch {
			p.Ring = nan
		}
		return Ask{point: p.Touch, touch: s.Set.Job.Setup.Touch, Say: "ask", Trial: s.Trial, Station: p.Station, Of: p.Of, Bearing: degrees(p.Bearing),
			Table: table(s, &p), Collar: Number(p.Ring), Expected: in(u, p.Expected), Again: p.Again, Closing: p.Closing, Vernier: vernier(s, &p), by: s.Set.Bearings}
	case session.ForWind:
		return wind(s, p, u)
	case session.ForDrift:
		return drift(s, p, u)
	case session.ForAgain:
		why := "too few readings are left in this sweep"
		if _, err := s.Fit(); err != nil {
			why = err.Error()
		}
		return AgainLine{Say: "stuck", Trial: s.Trial, Because: why}
	case session.ForChore:
		return step(s, &p, u)
	case session.ForAccept:
		return settled(s, u)
	case session.ForNothing:
	}
	return nil
}

func settled(s *session.State, u geom.Unit) Line {
	l := SettledLine{Say: "settled", Trial: s.Trial, Verdict: Verdict{indicator.Undecided, indicator.Undecided}, unit: u}
	if f, err := s.Fit(); err == nil {
		v := s.Verdicts(&f)
		if t, ok := touched(s); ok {
			l.Goal, l.places = placeOf(t.Centre, u), ReadingPlaces(s.Set.Job.Dial, u)
			f, _ = s.Standing()
		}
		l.Verdict = Verdict{v.Radius, v.Centre}
		if r, ok := s.Swing(&f); ok {
			l.Swing = in(u, r)
			l.setOff(s, u)
		} else {
			l.Swing = in(u, f.Swing())
		}
		l.Centre = &Centre{*in(u, f.CentreX()), *in(u, f.CentreY())}
	}
	return l
}

func wind(s *session.State, p session.Prompt, u geom.Unit) Line {
	if p.Told.Tap != nil && p.Told.Park != nil {
		return tap(s, p, u)
	}
	w := p.Told.Wind
	l := WindLine{Say: "wind", Trial: s.Trial, Step: p.Told.Step, Of: p.Told.Of, Slide: w.Slide, Travel: Number(u.From(w.Travel)),
		Moves: hand(w.Moves), Collar: FromTo{0, Number(w.CollarTo)}, unit: u, shown: p.Slide, Notes: []string{}}
	if k := p.Told.Park; k != nil {
		l.Park = &Park{degrees(k.Bearing), table(s, &p), Number(p.Ring), Number(u.From(k.Now)), nil, Number(u.From(k.Goal)),
			vernier(s, &p), ReadingPlaces(s.Set.Job.Dial, u), s.Set.Bearings}
		if k.Past != nil {
			past := Number(u.From(*k.Past))
			l.Park.ReadingPast = &past
		}
		if k.Shift != 0 {
			l.Notes = append(l.Notes, fmt.Sprintf("locking moves the slide by %s %v: the goal allows for it", geom.FormatSigned(u.From(k.Shift), 3), u))
		}
	} else if p.To {
		l.goes, l.places = true, CoordinatePlaces(s, u)
	} else {
		l.Notes = append(l.Notes, "by the collar, without the needle")
		l.Turn = turn(s, &p)
	}
	l.setOff(&p)
	l.Notes = append(l.Notes, stockNotes(s, &p, u)...)
	if why := ReachWords(s, u); why != "" {
		l.Notes = append(l.Notes, why)
	}
	if why := TravelWords(s, u); why != "" {
		l.Notes = append(l.Notes, why)
	}
	from := s.Stand(w.Slide)
	if p.Slide.Readout || p.To {
		l.Readout = &FromTo{Number(u.From(from.At)), Number(u.From(from.At + w.Travel))}
	} else if from.Known {
		l.Collar = FromTo{Number(p.Slide.Collar(from.At)), Number(p.Slide.Collar(from.At + w.By()))}
	}
	return l
}

// TravelWords says that the wind that is told leaves the slide's travel, and the way round it; empty
// where it does not.
func TravelWords(s *session.State, u geom.Unit) string {
	end, past := s.OffTravel()
	size := func(mm float64) string { return geom.FormatFixed(math.Abs(u.From(mm)), geom.Places(0, u)) }
	switch {
	case end != 0 && s.Told.Wind.Slide == "offset":
		return fmt.Sprintf("this radius lies %s %v beyond the slide's travel: it cannot be set on this head with this cutter", size(end), u)
	case end != 0:
		return fmt.Sprintf("the goal lies %s %v beyond the slide's travel: move the work by as much and sweep again", size(end), u)
	case past != 0:
		return fmt.Sprintf("winding past would leave the slide's travel by %s %v: go as far as it goes, the play is what counts", size(past), u)
	}
	return ""
}

// wound repeats the reading that a wind ended at.
func wound(st session.Step, e session.Wound, u geom.Unit) []Line {
	told := st.Before.Told
	if e.Reading == nil || told == nil || told.Park == nil {
		return nil
	}
	if told.Tap != nil {
		return []Line{tappedLine(st, e, u)}
	}
	d, end := st.Before.Set.Job.Dial, told.Park.Goal+told.Park.Shift*told.Park.Act
	off := geom.FormatSigned(u.From(*e.Reading-end), ReadingPlaces(d, u))
	return []Line{WoundLine{"wound", st.Before.Trial, e.Slide, Number(u.From(*e.Reading)), Number(u.From(end)),
		fmt.Sprintf("%s slide: stands at %s %v, %s beside its goal", e.Slide, Reading(d, u, *e.Reading), u, off)}}
}

// hand puts movements into the form of a line.
func hand(moves []slide.Move) []Move {
	out := make([]Move, len(moves))
	for i, m := range moves {
		out[i] = Move{m.Turn, m.Turns, Number(m.Divisions)}
	}
	return out
}
