package lines

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// StopsLine says where the stops are set before the pass by hand.
type StopsLine struct {
	Say string `json:"say"`
	record.Stops
}

// Text: see [Line].
func (l StopsLine) Text() string { return "stops: " + strings.Join(l.Words(), "; ") }

// StopsOf are the stops of a setting in unit u; ok is false where it has none.
func StopsOf(s *session.State, u geom.Unit) (stops record.Stops, ok bool) {
	of, ok := s.Stops()
	if !ok {
		return stops, false
	}
	return record.NewStops(&of, s.Set.Machine.Handwheel, u), true
}

// stopsSet tells the stops where they are to be set next.
func stopsSet(s *session.State, p *session.Prompt, u geom.Unit) []Line {
	if p.Waits != session.ForChore || p.Chore.Step != session.SetStops {
		return nil
	}
	if stops, ok := StopsOf(s, u); ok {
		return []Line{StopsLine{"stops", stops}}
	}
	return nil
}

// setStops are the words of that step.
func setStops(t *choreTeller) []string {
	stops, ok := StopsOf(t.s, t.u)
	if !ok {
		return []string{"set the stops where the arc begins and ends"}
	}
	return []string{"set the stops: " + stops.Set() + stops.Hard(), "stops: " + stops.Set()}
}

// SeenWords say what the ring showed in the pass by hand; empty where nobody has read it.
func SeenWords(e *session.Seen) string {
	figure := func(v float64) string { return "ring " + strconv.FormatFloat(record.RoundTo(v, 6), 'f', -1, 64) + "°" }
	switch {
	case e == nil || e.Stop == nil:
		return ""
	case e.Start == nil:
		return ", stopped at " + figure(*e.Stop)
	}
	return fmt.Sprintf(", begun at %s and stopped at %s", figure(*e.Start), figure(*e.Stop))
}

// StopAsked is what the pass by hand is asked behind it; empty where no ring shows it.
func StopAsked(s *session.State, u geom.Unit) string {
	stops, ok := StopsOf(s, u)
	if !ok {
		return ""
	}
	_, stop := stops.Places()
	return "did it stop at " + stop + "?"
}

// HandleWords say what the table's own handwheel does to come to a place, always from one side; empty for no movement.
func HandleWords(all []record.HandleMove) string {
	if len(all) == 0 {
		return ""
	}
	var moves []string
	for i, m := range all {
		words := m.Text()
		if len(all) > 1 {
			words = record.WindWords(i, len(all)) + " " + words
		}
		moves = append(moves, words)
	}
	return "its handle, " + record.FacingHandle + ": " + strings.Join(moves, ", ")
}

// StationHandle is the same of the station that is asked for.
func StationHandle(s *session.State, p *session.Prompt) string {
	return HandleWords(record.HandleMoves(s.Set.Machine.Handwheel, s.Cranks(p)))
}
