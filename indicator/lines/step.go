package lines

import (
	"errors"
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// Refused says why an input was not taken.
func Refused(input string, err error) RefusedLine {
	l := RefusedLine{Say: "refused", Input: input, Because: err.Error()}
	if r := (*session.Refusal)(nil); errors.As(err, &r) {
		l.Hint = r.Hint
	} else if says := (interface{ Hint() string })(nil); errors.As(err, &says) {
		l.Hint = says.Hint()
	}
	return l
}

// Resumed says where a resumed session stands.
func Resumed(s *session.State) Line {
	return OfPart(s, ResumedLine{Say: "resumed", Trial: s.Trial, Readings: s.Sweep.Readings(), Note: ResumedWords(s)})
}

// Paused says how many lines the journal holds.
func Paused(events int) PausedLine { return PausedLine{Say: "paused", JournalLines: events} }

// Of returns what the program says of one step, in unit u: what the event itself brings, and
// the next question unless something more is due.
func Of(st session.Step, u geom.Unit) []Line {
	p, asked := st.Asks() // found once, for the event's own lines too
	out := append(event(st, u), odd(st, u)...)
	if l, trembles := trembling(st, u); trembles {
		out = append(out, l)
	}
	if asked {
		out = append(out, stopsSet(&st.After, &p, u)...)
		if l := prompt(&st.After, p, u); l != nil {
			out = append(out, l)
		}
	}
	return ofPart(&st.After, out)
}

func fitLine(s *session.State, u geom.Unit) Line {
	l := FitLine{Say: "fit", Trial: s.Trial, Early: early(s, u)}
	f, err := s.Fit()
	if err != nil {
		l.Fit = record.FailedFit(s.Set.Job.Setup, s.Sweep.Readings(), err, u)
		return l
	}
	if s.SetUp().Under().Pair {
		l.Fit = record.TouchedFit(s, u)
		return l
	}
	bearings, readings, station := s.Readings(&f)
	l.Fit = record.NewFit(&f, bearings, readings, s.Judge(&f), record.LeansOf(s, &f), u)
	if s.Carried != nil {
		l.CarriedOver(CarriedWords(s, u))
	}
	if at := f.Circle.Centre.Bearing(); !l.Fit.Bearing.Unknown() && ringTells(s, at, s.Set.Bearings) {
		ring := record.Number(s.RingAt(at))
		l.Fit.Ring = &ring
	}
	for i := range l.Suspects {
		l.Suspects[i].Reading = station[l.Suspects[i].Reading-1]
	}
	return l
}

// table is how far the table stands turned counter-clockwise for what is asked; not known where the head
// is swung.
func table(s *session.State, p session.Position) record.Number {
	if !s.SetUp().Under().Table {
		return record.Number(nan)
	}
	return record.Degrees360(p.Table)
}

// vernier is how the ring is set with its vernier; nil where it has none.
func vernier(s *session.State, p session.Position) *setup.Mark {
	if m, ok := s.Ring().Mark(p.Ring); ok && (s.SetUp().Under().Table || s.Set.Bearings == session.ByRing) {
		return &m
	}
	return nil
}

// turn is where the table has to stand for a handwheel to be reached; nil where it can be anywhere.
func turn(s *session.State, p session.Position) *Turn {
	if !p.Set {
		return nil
	}
	return &Turn{table(s, p), record.Number(p.Ring), vernier(s, p)}
}

// Prompt says what the session waits for; nil where it waits for nothing.
func Prompt(s *session.State, u geom.Unit) Line {
	if l := prompt(s, s.Prompt(), u); l != nil {
		return OfPart(s, l)
	}
	return nil
}

func prompt(s *session.State, p session.Prompt, u geom.Unit) Line {
	switch p.Waits {
	case session.ForLoad:
		return Load{Say: "load", Slide: p.Load.Slide.Name, Moves: hand(p.Load.Moves), Turn: turn(s, p.Load.Position), shown: p.Load.Slide}
	case session.ForReading:
		if s.Bump != nil {
			return compareLine(s, p.Reading)
		}
		if p.Reading.Between {
			return lookLine(s, p.Reading)
		}
		ask := askFor(s, p.Reading, u)
		ask.Handle = record.HandleMoves(s.Set.Machine.Handwheel, s.Cranks(&p))
		return ask
	case session.ForWind:
		return wind(s, p, u)
	case session.ForDrift:
		return drift(s, p.Drift, u)
	case session.ForSize:
		return size(s, p.Size, u)
	case session.ForCheck:
		return check(s, p.Check)
	case session.ForBack:
		return back(p.Back)
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
	case session.ForMoved:
		return movedLine(s, s.Bump.Found, u)
	case session.ForNothing:
	}
	return nil
}

// askFor asks for a reading, or a point.
func askFor(s *session.State, r session.ReadingAsked, u geom.Unit) Ask {
	if r.Touch {
		r.Ring = nan
	}
	return Ask{point: r.Touch, touch: s.Set.Job.Setup.Touch, Say: "ask", Trial: s.Trial, Station: r.Station, Of: r.Of,
		Bearing: record.Degrees360(r.Bearing),
		Table:   table(s, r.Position), Collar: record.Number(r.Ring), Expected: record.ValueOf(u, r.Expected), Again: r.Again,
		Closing: r.Closing,
		Vernier: vernier(s, r.Position), WholeNumbers: s.Set.Job.Dial.WholeNumbers, by: s.Set.Bearings}
}

func settled(s *session.State, u geom.Unit) Line {
	l := SettledLine{Say: "settled", Trial: s.Trial, Verdict: record.Verdict{Radius: indicator.Undecided, Centre: indicator.Undecided},
		unit: u}
	if s.ByTrial() {
		l.RadiusBy = "trial cut"
	}
	if l.Notes = CarriedWords(s, u); len(l.Notes) > 0 {
		l.Notes = append(l.Notes, Unseen)
	}
	l.Assumed = record.AssumedOf(record.NoLeans, indicator.Verdicts{Radius: l.Verdict.Radius, Centre: l.Verdict.Centre}, u)
	if f, err := s.Fit(); err == nil {
		v := s.Verdicts(&f)
		l.Assumed = record.AssumedOf(record.LeansOf(s, &f), v, u)
		if goal := s.Goal(); goal != nil {
			l.Goal, l.places = record.PlaceOf(*goal, u), record.ReadingPlaces(s.Set.Job.Dial, u)
		}
		l.about(s, &f)
		f, _ = s.Standing(&f)
		l.Verdict = record.Verdict{Radius: v.Radius, Centre: v.Centre}
		if r, ok := s.Swung(&f); ok {
			l.Swing = record.ValueOf(u, r.Value)
			l.setOff(r, u)
		} else {
			l.Swing = record.ValueOf(u, f.Swing())
		}
		l.Centre = record.CentreOf(u, &f)
	}
	return l
}

func wind(s *session.State, p session.Prompt, u geom.Unit) Line {
	if p.Wind.How == session.ByTap {
		return tap(s, p.Wind, u)
	}
	if q := p.Wind.Which; q != nil {
		return which(s, q, p.Wind.Slide, u)
	}
	w := p.Wind.Told.Wind
	if p.Wind.Reads {
		return ReadCollarLine{"read collar", s.Trial, w.Slide, record.Number(p.Wind.Slide.Divisions)}
	}
	l := WindLine{Say: "wind", Trial: s.Trial, Step: p.Wind.Told.Step, Of: p.Wind.Told.Of, Slide: w.Slide,
		Travel: record.Number(u.From(w.Travel)),
		Moves:  hand(w.Moves), Collar: FromTo{0, record.Number(w.CollarTo)}, unit: u, shown: p.Wind.Slide, Notes: []string{}}
	switch k := p.Wind.Told.Park; p.Wind.How {
	case session.UnderNeedle:
		l.WholeNumbers = s.Set.Job.Dial.WholeNumbers
		l.Park = &Park{record.Degrees360(k.Bearing), table(s, p.Wind.Position), record.Number(p.Wind.Ring), record.Number(u.From(k.Now)),
			nil, record.Number(u.From(k.Goal)),
			vernier(s, p.Wind.Position), record.ReadingPlaces(s.Set.Job.Dial, u), s.Set.Bearings}
		if k.Past != nil {
			past := record.Number(u.From(*k.Past))
			l.Park.ReadingPast = &past
		}
		if k.Shift != 0 {
			l.Notes = append(l.Notes, fmt.Sprintf("locking moves the slide by %s %v: the goal allows for it",
				geom.FormatSigned(u.From(k.Shift), 3), u))
		}
	case session.ByCoordinate:
		l.goes, l.places = true, record.CoordinatePlaces(s, u)
	case session.ByCollar:
		l.Notes = append(l.Notes, "by the collar, without the needle")
		l.Turn = turn(s, p.Wind.Position)
	case session.ByTap: // told above
	}
	l.First, l.Last, l.TakenBack = FirstWords(s), LastWords(s), RewoundWords(s, u)
	l.setOff(s, &p)
	if at := TipWords(s); at != "" {
		l.Notes = append(l.Notes, at)
	}
	l.Notes = append(l.Notes, stockNotes(s, &p, u)...)
	if why := ReachWords(s, u); why != "" {
		l.Notes = append(l.Notes, why)
	}
	if why := TravelWords(s, u); why != "" {
		l.Notes = append(l.Notes, why)
	}
	from := s.Stand(w.Slide)
	if p.Wind.Slide.Readout || p.Wind.How == session.ByCoordinate {
		l.Readout = &FromTo{record.Number(u.From(from.At)), record.Number(u.From(from.At + w.Travel))}
	}
	if at, known := s.CollarAt(w.Slide); known && l.Park == nil && !l.goes {
		l.Collar = FromTo{record.Number(p.Wind.Slide.Collar(at)), record.Number(p.Wind.Slide.Collar(at + w.By()))}
		l.from, _, l.moves, _ = Figures(s, &p.Wind)
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
		return fmt.Sprintf("backing off would leave the slide's travel by %s %v: back off as far as it goes, taking up the backlash "+
			"is what counts", size(past), u)
	}
	return ""
}

// hand puts movements into the form of a line.
func hand(moves []slide.Move) []Move {
	out := make([]Move, len(moves))
	for i, m := range moves {
		out[i] = Move{m.Turn, m.Turns, record.Number(m.Divisions)}
	}
	return out
}
