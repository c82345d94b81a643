package session_test

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
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

// What is asked for is a length, a figure of a collar, a coordinate or one of several answers: typed it is taken, and the figure that
// an indicator shows is not.
func TestGaugedIsNoLength(t *testing.T) {
	opened := open(t, trial(t, false, true, 0), at43(1, 40.3)).until(session.ForChore).answer(1)
	measures := onArc(t, 0, nil)
	for name, asked := range map[string]struct {
		p     *player
		typed float64
	}{
		"a finished arc's radius": {measures, 38.01},
		"the radius as set":       {opened, 43.5},
		"one of three points":     {pointsOn(t, 3, nil).touchAll(2), 2},
		"a collar's figure":       {open(t, keeping(t), practice.New(practice.Bench(7), 7)).until(session.ForWind), 37.5},
		"a coordinate":            {touched(t), touched(t).prompt().Wind.Goal},
	} {
		s := asked.p.state()
		if q := s.Prompt(); !q.TakesReading() || q.Needle() {
			t.Errorf("%s: %+v does not ask for it", name, q)
		}
		if _, err := session.Decide(s, session.Take{Reading: asked.typed}); err != nil {
			t.Errorf("%s: %v typed is refused: %v", name, asked.typed, err)
		} else if e, err := session.Decide(s, session.Take{Reading: asked.typed, Gauge: cable}); err == nil {
			t.Errorf("%s: what the indicator shows is taken for it: %+v", name, e)
		} else if !strings.Contains(err.Error(), "what the indicator shows is not asked for now") {
			t.Errorf("%s: %v, instead of what is wrong", name, err)
		}
	}
}

// Wherever the needle is read its reading goes on record with where it comes from: all set-ups' sweeps, winds and taps, and a head's
// lock.
func TestGaugedIsNeverDropped(t *testing.T) {
	var plays []*player
	for _, u := range practice.Setups() {
		jobText, machineText := u.Files()
		plays = append(plays, open(t, testdata.Setting(t, jobText, machineText), byCable{practice.New(u.Bench(3), 3), 0.001}))
	}
	locked := benchOpened(t)
	locked.Machine.HeadLock = true
	plays = append(plays, open(t, locked, byCable{near42(0.1, 0.05, 0), 0.001}))
	seen := map[string]int{}
	for _, p := range plays {
		for p.prompt().Waits != session.ForNothing {
			q := p.prompt()
			c, ok, err := p.hands.Do(q)
			if err != nil || !ok {
				t.Fatalf("%+v: nothing to do (%v)", q, err)
			}
			if take, is := c.(session.Take); is && q.Needle() {
				before := len(p.mem.Lines)
				p.do(take)
				line := string(p.mem.Lines[before])
				if !strings.Contains(line, `"gauge":{"source":"serial:/dev/ttyS1","samples":10,"spread":0.001}`) {
					t.Errorf("its source is dropped: %s", line)
				}
				seen[fmt.Sprint(q.Waits, q.Wind.How)]++
				continue
			}
			p.do(c)
		}
	}
	for _, w := range []string{fmt.Sprint(session.ForReading, session.ByCollar), fmt.Sprint(session.ForWind, session.UnderNeedle),
		fmt.Sprint(session.ForWind, session.ByTap), fmt.Sprint(session.ForChore, session.ByCollar)} {
		if seen[w] == 0 {
			t.Errorf("no reading by %s is among %v", w, seen)
		}
	}
}

// A needle that went the other way puts the slide in question, by a cable as typed; no reading is kept of it, and no source.
func TestGaugedPutsInQuestion(t *testing.T) {
	for _, g := range []session.Gauged{{}, cable} {
		p := bench(t, 7).until(session.ForWind)
		k := p.prompt().Wind.Told.Park
		p.do(session.Take{Reading: k.Now + 0.8*(k.Now-k.Goal), Gauge: g})
		if q := p.prompt(); q.Waits != session.ForCheck {
			t.Errorf("%+v: waits for %v, want the slide questioned", g, q.Waits)
		}
	}
}

// That the slide stopped there says of the number what a number says, and where it comes from: the sixth station's reading, at a wind
// whose goal is as far away as it may be, or questions the slide.
func TestGaugedStopped(t *testing.T) {
	p, _ := early(t)
	goal := p.prompt().Wind.Told.Park.Goal
	s := p.state()
	s.Wonder = &session.Wondered{Reading: goal, Station: 6, Gauge: cable}
	e, err := session.Decide(s, session.Stopped{})
	if w, ok := e.(session.Wound); err != nil || !ok || w.Gauge != cable || *w.Reading != goal {
		t.Errorf("%+v (%v), want a wind at %v by %+v", e, err, goal, cable)
	}
}
