package main

import (
	"errors"
	"fmt"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
)

// record is a journal read for looking at: its events up to its end, or up to the first line that cannot
// be used.
type recorded struct {
	name   string
	events []session.Record
	broken error // what is wrong behind the last of them; nil at the journal's end
}

// readRecord reads a journal, or standard input for "-", without changing or locking it. A last line
// that is not whole is told and left out: a power cut, or a session that is writing it now.
func readRecord(w world, path string) (recorded, error) {
	in, name, err := openInput(w, path)
	if err != nil {
		return recorded{}, err
	}
	got, err := journal.ReadFrom(in, name)
	if err = errors.Join(err, in.Close()); err != nil {
		return recorded{}, err
	}
	if len(got.Torn) > 0 {
		fmt.Fprintf(w.err, "trammel: %s: the last line is not whole, its %d bytes are left out\n", printable(name), len(got.Torn))
	}
	r := recorded{name: name, broken: got.Err()}
	var reading session.Reading
	for _, line := range got.Lines {
		e, err := reading.Next(line)
		if err != nil {
			r.broken = fmt.Errorf("%s: %w", name, err)
			break
		}
		r.events = append(r.events, e)
	}
	return r, nil
}

// upTo returns the first n events, all where n is 0. What is wrong behind them does not matter; what is
// wrong before is an error that names the line.
func (r *recorded) upTo(n int) ([]session.Record, error) {
	have := len(r.events)
	switch {
	case n > 0 && n <= have:
		return r.events[:n], nil
	case r.broken != nil && have == 0:
		return nil, r.broken
	case r.broken != nil:
		return nil, withHint(r.broken, "the file was left as it is; --to %d shows what stands before that line", have)
	case have == 0:
		return nil, withHint(fmt.Errorf("%s: holds no event, need a journal with a setting", r.name), "trammel dial writes one")
	case n > have:
		return nil, withHint(fmt.Errorf("%s: --to %d, need 1 to %d, which is all it holds", r.name, n, have), "leave out --to to see all")
	}
	return r.events, nil
}

// unitOf is the unit of the first setting's job.
func unitOf(events []session.Record) geom.Unit {
	if len(events) > 0 {
		if o, ok := events[0].Event.(session.Opened); ok {
			return o.Job.Unit
		}
	}
	return geom.Millimetre
}
