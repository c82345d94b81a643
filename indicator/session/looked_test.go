package session_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// betweenWinds plays the practice bench from a coarse start until the needle is read between two winds.
func betweenWinds(t *testing.T) *player {
	t.Helper()
	w := practice.Bench(1)
	w.Start.Swing, w.Start.CentreX = 42.9, 0.9
	p := open(t, benchOpened(t), practice.New(w, 1))
	for range most {
		if q := p.prompt(); q.Reading.Between {
			return p
		}
		p.answer(1)
	}
	t.Fatal("nothing was read between two winds")
	return nil
}

// What is read between two winds makes known what they left open; of what is a turn of the needle off nothing is made, and undo takes
// either back.
func TestLookBetweenWinds(t *testing.T) {
	p := betweenWinds(t)
	s := p.state()
	at := s.Prompt().Reading
	before := s.Believed.Expect(at.Bearing)
	if !(before.U > 0.02) || math.Abs(before.V-at.Expected.V) > 1e-12 {
		t.Fatalf("%+v is to be expected, asked with %+v; want more than the tolerance open", before, at.Expected)
	}
	p.do(session.Take{Reading: math.Round(before.V*500)/500 + 0.01})
	s = p.state()
	if after := s.Believed.Expect(at.Bearing); after.U > before.U/2 || len(s.Looked) != 1 || s.Looked[0].Bearing != at.Bearing {
		t.Errorf("%+v behind the look, %+v before; looks %+v", after, before, s.Looked)
	}
	p.do(session.Undo{})
	s = p.state()
	if again := s.Prompt().Reading; again.Bearing != at.Bearing || s.Believed.Expect(at.Bearing) != before {
		t.Errorf("asked at %v behind the undo, want %v anew", again.Bearing, at.Bearing)
	}
	off := math.Round(before.V*500)/500 + 0.5
	strange := s.Strange(session.Looked{Bearing: at.Bearing, Reading: off})
	p.do(session.Take{Reading: off})
	s = p.state()
	if after := s.Believed.Expect(at.Bearing); !strange || after != before {
		t.Errorf("half a millimetre off: strange %v, %+v to be expected behind it, want it not gone by", strange, after)
	}
	if next := s.Prompt().Reading; next.Between && next.Bearing == at.Bearing {
		t.Error("the same place is looked at twice")
	}
}
