package session_test

import (
	"fmt"
	"slices"
	"testing"

	"example.org/trammel/indicator/session"
)

// An acceptance that is taken back has not been: the setting is settled again with what the machine had taught before, and
// is swept once more, wound and accepted as if nothing had been accepted in between; so is the journal, folded.
func TestAcceptedTakenBack(t *testing.T) {
	o := benchOpened(t)
	o.Machine.Slides[0].Lock = true
	p := open(t, o, near42(0.2, 0.15, -0.1))
	p.do(session.At{Slide: "offset", At: 3})
	p.until(session.ForWind)
	for p.prompt().Waits != session.ForAccept { // a collar that is wound under the needle is read anew
		p.answer(1)
		if s := p.state(); !s.Stand("offset").Known {
			p.do(session.At{Slide: "offset", At: 3.2})
		}
	}
	settled := p.state()
	p.do(session.Accept{})
	if s := p.state(); digest(s.Lessons) == digest(settled.Lessons) {
		t.Fatal("accepting teaches nothing of the offset slide, so nothing can be seen to be taken back")
	}
	p.do(session.Undo{})
	wantSame(t, "taken back", timeless(p.state()), timeless(settled))
	if p.prompt().Waits != session.ForAccept || p.state().Phase != session.SettledDown {
		t.Fatalf("waits for %d in phase %d, want the settled page", p.prompt().Waits, p.state().Phase)
	}
	p.do(session.Restart{})
	p.until(session.ForAccept).do(session.Accept{})
	s := p.state()
	if !s.Accepted() || s.Trial != settled.Trial+1 && s.Trial != settled.Trial {
		t.Errorf("trial %d, accepted %v", s.Trial, s.Accepted())
	}
	n := 0
	for _, l := range s.Lessons {
		n += len(l.Lesson.Radii)
	}
	if n != 1 {
		t.Errorf("%d accepted radii are learnt from, want the one that stands", n)
	}
	folded, err := session.Fold(p.mem.Lines, nil)
	if err != nil {
		t.Fatal(err)
	}
	wantSame(t, "replay", folded, s)
	h := session.HistoryOf(records(t, p.mem.Lines), nil)
	for n := range h.Len() + 1 {
		wantSame(t, fmt.Sprintf("history at %d", n), h.State(n), fold(session.State{}, events(t, p.mem.Lines)[:n]))
	}
}

// Behind an accepted setting undo takes back the steps first, the newest first, and then the setting; what was measured is
// taken back like a step, and the accepted setting never in its place.
func TestStepsThenAcceptedTakenBack(t *testing.T) {
	p := open(t, stepwise(t, false), near42(0.1, 0, 0)).until(session.ForAccept)
	settled := p.state()
	stood := []session.State{settled}
	p.do(session.Accept{})
	for p.state().Phase == session.Cutting {
		stood = append(stood, p.state())
		before := p.state().Phase
		if p.prompt().Chore.Step == session.Measure || p.prompt().Chore.Step == session.CheckArc {
			p.do(session.Take{Reading: 38})
		} else {
			p.do(session.Confirm{})
		}
		if p.state().Phase == before && len(stood) > 40 {
			t.Fatal("the steps never end")
		}
	}
	if p.state().Phase != session.Ended || len(p.state().Arcs) != 1 {
		t.Fatalf("phase %d, %d arcs, want the end with one", p.state().Phase, len(p.state().Arcs))
	}
	for i, want := range slices.Backward(stood) {
		p.do(session.Undo{})
		wantSame(t, fmt.Sprintf("back to place %d", i), timeless(p.state()), timeless(want))
	}
	if s := p.state(); s.Accepted() {
		t.Error("the setting is still accepted")
	}
	p.do(session.Accept{})
	if q := p.prompt(); q.Chore.Step != session.Isolate || q.Chore.N != 1 {
		t.Errorf("accepted again: %+v, want step 1", q.Chore)
	}
}

// Another program than the one that accepted a setting takes back what was done behind it, and not the setting.
func TestAcceptedStaysInAnotherProgram(t *testing.T) {
	w := near42(0.1, 0, 0)
	w.arc = 38
	p := open(t, stepwise(t, false), w).until(session.ForAccept)
	p.do(session.Accept{}, session.Confirm{})
	s, err := session.Fold(p.mem.Lines, nil)
	if err != nil {
		t.Fatal(err)
	}
	p.live = session.NewLive(s, p.mem)
	p.do(session.Confirm{}, session.Undo{}, session.Undo{})
	for range 2 {
		if r := p.refused(session.Undo{}); r.Because != "the setting was accepted before the program was left, and stays so" {
			t.Errorf("refused: %q", r.Because)
		}
		s, q := p.state(), p.prompt()
		if now := s.Now(&q); now.Undo || !now.Sealed || s.LastEntry() != nil {
			t.Errorf("the keys say %+v, undo would take back %v", now, s.LastEntry())
		}
		p.do(session.Note{Text: "cutter 4"}, session.Undo{}) // what is entered now is taken back, which unseals nothing
	}
	if s := p.state(); !s.Accepted() || p.prompt().Chore.N != 1 {
		t.Errorf("accepted %v, step %d, want the first step behind the accepted setting", s.Accepted(), p.prompt().Chore.N)
	}
	p.until(session.ForNothing)
	p.do(session.Open{Opened: benchOpened(t)})
	p.until(session.ForAccept).do(session.Accept{}, session.Undo{}) // its own is another
	if s := p.state(); s.Accepted() {
		t.Error("the next setting, accepted here, is not taken back")
	}
}

// The next setting ends it: what was accepted before it stays.
func TestAcceptedStaysBehindTheNextSetting(t *testing.T) {
	p := bench(t, 7).until(session.ForNothing)
	p.do(session.Open{Opened: benchOpened(t)})
	if r := p.refused(session.Undo{}); r.Because != "there is no entry to take back" {
		t.Errorf("refused: %q", r.Because)
	}
}

// A what-if of a sweep whose setting was accepted, and is not any more, counts its entries as they stand.
func TestWhatIfBehindAcceptedTakenBack(t *testing.T) {
	p := bench(t, 7).until(session.ForAccept)
	change := session.Change{Out: true}
	for i, e := range events(t, p.mem.Lines) {
		if _, ok := e.(session.Took); ok {
			change.Event = i + 1
		}
	}
	want, err := session.Try(events(t, p.mem.Lines), []session.Change{change})
	if err != nil {
		t.Fatal(err)
	}
	p.do(session.Accept{}, session.Undo{})
	got, err := session.Try(events(t, p.mem.Lines), []session.Change{change})
	if err != nil || got.Used != want.Used || got.Entries != want.Entries || got.Why != want.Why ||
		digest(timeless(got.Now)) != digest(timeless(want.Now)) {
		t.Errorf("%d of %d entries, %q (%v); want %d of %d, %q", got.Used, got.Entries, got.Why, err, want.Used, want.Entries, want.Why)
	}
}
