package lines

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// telling is what is said of a kind of event.
type telling struct {
	kind     string
	lines    func(session.Step, session.Event, geom.Unit) []Line
	happened func(session.Event) string
	undo     func(*session.State, session.Event, geom.Unit) string
	status   status
}

// told is a [telling] as the file of an entry writes it, with the event's own type.
type told[E session.Event] struct {
	// lines are what it brings; nil where its sequel, the next question, says it all.
	lines func(session.Step, E, geom.Unit) []Line
	// happened is what a replay says of it where there are no lines, or not these; nil, or empty, for the first of them.
	happened func(E) string
	// undo is what undo takes back with it, with its place and its figures, from the state in front of it; nil for the bare
	// word of its row.
	undo func(*session.State, E, geom.Unit) string
	// status is what the screen's status row says of it.
	status status
}

// status is what the screen's status row says of an event, over the next question.
type status uint8

const (
	unsaid  status = iota // what follows says it
	asText                // what happened
	figures               // the same, and a minus in it is one of a figure
)

func (t told[E]) row() telling {
	var e E
	out := telling{kind: session.Kind(e), status: t.status,
		lines:    func(session.Step, session.Event, geom.Unit) []Line { return nil },
		happened: func(session.Event) string { return "" },
		undo:     func(_ *session.State, e session.Event, _ geom.Unit) string { return session.UndoWords(e) }}
	if t.lines != nil {
		out.lines = func(st session.Step, e session.Event, u geom.Unit) []Line { return t.lines(st, e.(E), u) }
	}
	if t.happened != nil {
		out.happened = func(e session.Event) string { return t.happened(e.(E)) }
	}
	if t.undo != nil {
		out.undo = func(s *session.State, e session.Event, u geom.Unit) string { return t.undo(s, e.(E), u) }
	}
	return out
}

// tellings are what is said of every kind of event.
var tellings = byKind(
	opened, loaded, took, skipped, doubted, kept, contradicted, retouched, sized, closingAsked, drifted, evened, paired, held,
	released, biased, limitStated, stoodAt, collarRead, bezelSet,
	sensed, suspected, passedOver, restated, backed, differs,
	raised, tilted, undone, restarted, swept, windTold, wondered, reopened, wound, looked, reswept, settledDown, worked, accepted, parted,
	noted, ticked, bumped, reread, moved, stayed,
)

func byKind(rows ...telling) map[string]telling {
	out := make(map[string]telling, len(rows))
	for _, r := range rows {
		out[r.kind] = r
	}
	return out
}

// event says what one event brings, without the next question.
func event(st session.Step, u geom.Unit) []Line {
	return tellings[session.Kind(st.Event)].lines(st, st.Event, u)
}

// Happened is a step in words for who looks at a journal: more shortly than its lines where those are long, and where it
// has none.
func Happened(st session.Step, u geom.Unit) string {
	if t := tellings[session.Kind(st.Event)].happened(st.Event); t != "" {
		return t
	}
	said := event(st, u)
	if len(said) == 0 {
		said = Of(st, u)
	}
	if len(said) > 0 {
		return OfPart(&st.After, said[0]).Text()
	}
	return "event"
}

// Status is what the screen's status row says of a step, empty where it leaves that to what follows; a minus in it is
// one of a figure where signed.
func Status(st session.Step, u geom.Unit) (text string, signed bool) {
	if l, trembles := trembling(st, u); trembles {
		return l.Text(), false
	}
	s := tellings[session.Kind(st.Event)].status
	if s == unsaid {
		return "", false
	}
	st.Event = session.Ungauged(st.Event) // where a reading comes from is the journal's and the replay's to say
	return Happened(st, u), s == figures
}
