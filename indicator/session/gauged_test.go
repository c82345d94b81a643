package session_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"example.org/trammel/indicator/session"
)

var cable = session.Gauged{Source: "serial:/dev/ttyS1", Samples: 10, Spread: 0.0004}

// gaugedOf are the kinds of a journal's events that say where a reading comes from.
func gaugedOf(p *player) (out []string) {
	for _, line := range p.mem.Lines {
		if strings.Contains(string(line), `"gauge":{"source":"serial:/dev/ttyS1","samples":10,"spread":0.0004}`) {
			_, kind, _ := strings.Cut(string(line), `"k":"`)
			kind, _, _ = strings.Cut(kind, `"`)
			out = append(out, kind)
		}
	}
	return out
}

// Whatever holds what the needle shows holds where that comes from: at stations, at winds under the needle, through the question
// which of the two a number is, and behind the head's lock; and the journal folds to the same state.
func TestGaugedIsKept(t *testing.T) {
	p, sixth := early(t)
	p.do(session.Take{Reading: sixth, Gauge: cable}, session.NextStation{}, session.Undo{})
	p.do(session.Take{Reading: p.prompt().Wind.Told.Park.Goal, Gauge: cable})
	p.until(session.ForReading)
	p.do(session.Take{Reading: p.prompt().Reading.Expected.V, Gauge: cable})
	if got, want := gaugedOf(p), []string{"wondered", "reopened", "wound", "reading"}; !reflect.DeepEqual(got, want) {
		t.Errorf("a source is kept of %q, want %q", got, want)
	}
	if s, err := session.Fold(p.mem.Lines, nil); err != nil || digest(s) != digest(p.state()) {
		t.Errorf("the journal folds to another state (%v)", err)
	}
	p = bySteps(t)
	for _, e := range events(t, p.mem.Lines) {
		if w, ok := e.(session.Worked); ok && w.Gauge != (session.Gauged{}) || strings.Contains(string(p.mem.Lines[0]), `"gauge"`) {
			t.Errorf("%+v: a source of what was typed", e)
		}
	}
}

// The needle is on a figure whatever is asked: that figure is no answer to anything but what it shows.
func TestGaugedIsRefusedElsewhere(t *testing.T) {
	p := bench(t, 7)
	p.until(session.ForLoad)
	p.refused(session.Take{Reading: 0.1, Gauge: cable})
	p.until(session.ForReading)
	p.refused(session.Take{Reading: 99, Gauge: cable})
	p.refused(session.Take{Reading: math.Inf(1), Gauge: cable})
	p.until(session.ForWind)
	if q := p.prompt(); q.Wind.How == session.ByCollar {
		p.refused(session.Take{Reading: 0.1, Gauge: cable})
	}
	p.until(session.ForAccept)
	p.refused(session.Take{Reading: 0.1, Gauge: cable})
}
