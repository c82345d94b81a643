package session

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"time"
)

// Version is the version of the journal's line form. It changes when an old program could
// misread a new line.
const Version = 1

// Record is one journal line.
type Record struct {
	V     int       // version of the line form
	N     int       // number of the event, from 1
	T     time.Time // when it was recorded
	Event Event
}

type envelope struct {
	V int             `json:"v"`
	N int             `json:"n"`
	T string          `json:"t"`
	K string          `json:"k"`
	D json.RawMessage `json:"d"`
}

// stamp is the form of a journal's times: UTC, to the millisecond.
const stamp = "2006-01-02T15:04:05.000Z"

// Encode writes event number n as one JSON object without a line end. It fails on numbers that
// JSON cannot hold, which Decide has refused before.
func Encode(n int, at time.Time, e Event) ([]byte, error) {
	d, err := json.Marshal(e)
	if err != nil {
		return nil, err
	}
	return json.Marshal(envelope{V: Version, N: n, T: at.UTC().Format(stamp), K: e.row().Kind, D: d})
}

// LineError says why a journal line cannot be used.
type LineError struct {
	Number int // of the line, from 1
	Why    string
	// Program is the name and version of the program that opened the setting, as its opening line
	// says, and Since when that was; empty where that is not known.
	Program string
	Since   time.Time
}

func (e *LineError) Error() string {
	by := ""
	if e.Program != "" {
		by = " (the setting was opened by " + e.Program
		if !e.Since.IsZero() {
			by += " on " + e.Since.Format(time.DateOnly)
		}
		by += ")"
	}
	return fmt.Sprintf("journal line %d: %s%s", e.Number, e.Why, by)
}

// Decode reads line number n. Kinds and fields that this program does not know stop the reading:
// a line from a newer program is never skipped or half understood. The error is a *[LineError].
func Decode(n int, line []byte) (Record, error) {
	r, ok := quick(n, line)
	if !ok {
		var err error
		if r, err = decode(n, line); err != nil {
			return r, err
		}
	}
	r.Event = printed(r.Event, line)
	return r, nil
}

// decode is Decode in full: any form of JSON, and every reason why not.
func decode(n int, line []byte) (Record, error) {
	var env envelope
	if err := exactJSON(line, &env); err != nil {
		return Record{}, &LineError{Number: n, Why: fmt.Sprintf("not an event: %v", err)}
	}
	if env.V != Version {
		return Record{}, &LineError{Number: n, Why: fmt.Sprintf("line form version %d, this program reads version %d", env.V, Version)}
	}
	if env.N != n {
		return Record{}, &LineError{Number: n, Why: fmt.Sprintf("event number %d, need %d", env.N, n)}
	}
	at, err := time.Parse(stamp, env.T)
	if err != nil {
		return Record{}, &LineError{Number: n, Why: fmt.Sprintf("time %q, need the form %s", env.T, stamp)}
	}
	row, ok := kinds[env.K]
	if !ok {
		return Record{}, &LineError{Number: n, Why: fmt.Sprintf("event %q is not known to this program; a newer one wrote it", env.K)}
	}
	e, err := row.read(env.D)
	if err != nil {
		return Record{}, &LineError{Number: n, Why: fmt.Sprintf("event %q: %v", env.K, err)}
	}
	return Record{V: env.V, N: env.N, T: at, Event: e}, nil
}

func strictJSON(b []byte, into any) error {
	// A null would be read as an object with nothing in it.
	if b = bytes.TrimSpace(b); len(b) > 0 && b[0] != '{' {
		return fmt.Errorf("begins with %q, need a JSON object", b[0])
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	// More would take a brace or bracket that follows for the end of something.
	if _, err := d.Token(); err != io.EOF {
		return errors.New("something follows the object")
	}
	return nil
}

// Fold decodes a journal's lines in one pass and applies them. On a *[LineError] the state is
// what stood before that line. When each is not nil it sees every step.
func Fold(lines [][]byte, each func(Step)) (State, error) {
	var r Reading
	done := 0
	var wrong error
	for part := range decodeAhead(lines) {
		for i := range part.records {
			rec := &part.records[i]
			if wrong == nil {
				if wrong = r.takes(rec); wrong != nil {
					wrong = openedBy(wrong, lines[rec.N-1], &r.state, r.since)
				}
			}
			if wrong == nil {
				r.state.and(rec.Event, each)
			}
		}
		if wrong != nil {
			continue
		}
		if done += len(part.records); part.err != nil {
			return r.state, openedBy(part.err, lines[done], &r.state, r.since)
		}
	}
	return r.state, wrong
}

// and applies one event more, and tells each of the step where that is not nil.
func (s *State) and(e Event, each func(Step)) {
	if each == nil {
		s.step(e)
		return
	}
	before := *s
	s.step(e)
	each(Step{Before: before, Event: e, After: *s})
}

// decodedPart is a run of a journal's events, and what is wrong with the line behind them.
type decodedPart struct {
	records []Record
	err     error
}

// partLines is how many lines are decoded at a time, partsAhead how many such parts wait at most.
const partLines, partsAhead = 512, 2

// decodeAhead decodes lines while what came before them is being applied: of a long journal, reading is a
// third of the work. The last part is the one with an error; all parts must be taken.
func decodeAhead(lines [][]byte) <-chan decodedPart {
	out := make(chan decodedPart, partsAhead)
	decode := func(from, to int) decodedPart {
		p := decodedPart{records: make([]Record, 0, to-from)}
		for i := from; i < to && p.err == nil; i++ {
			var r Record
			if r, p.err = Decode(i+1, lines[i]); p.err == nil {
				p.records = append(p.records, r)
			}
		}
		return p
	}
	if len(lines) <= partLines { // not worth a goroutine
		out <- decode(0, len(lines))
		close(out)
		return out
	}
	go func() {
		defer close(out)
		for from := 0; from < len(lines); from += partLines {
			p := decode(from, min(from+partLines, len(lines)))
			if out <- p; p.err != nil {
				return
			}
		}
	}()
	return out
}

// openedBy adds to a *[LineError] which program opened the setting: what the line itself says, where
// it is an opening of a newer form, else what the setting in front of it says.
func openedBy(err error, line []byte, s *State, since time.Time) error {
	var bad *LineError
	if !errors.As(err, &bad) {
		return err
	}
	var opening struct {
		T time.Time `json:"t"`
		K string    `json:"k"`
		D struct {
			Program string `json:"program"`
		} `json:"d"`
	}
	switch {
	case json.Unmarshal(line, &opening) == nil && opening.K == "opened":
		bad.Program, bad.Since = opening.D.Program, opening.T
	case s.Set != nil:
		bad.Program, bad.Since = s.Set.Program, since
	}
	return err
}
