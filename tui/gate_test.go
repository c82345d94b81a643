package tui

import (
	"testing"
	"time"

	"example.org/trammel/indicator/session"
)

// A step that the terminal library has not begun by the time the screen ends does not happen: what
// Run has returned is what is on record.
func TestNothingBeginsBehindTheGate(t *testing.T) {
	mem := &session.Memory{}
	m := Model{cfg: Config{Live: session.NewLive(session.State{}, mem), Now: time.Now}, gate: &gate{}}
	_, before := m.start(session.Open{})
	_, behind := m.start(session.Open{})
	if before() == nil || len(mem.Lines) != 0 {
		t.Fatalf("before the gate is closed: %d lines, want the message of a refusal and no line", len(mem.Lines))
	}
	m.gate.close()
	if msg := behind(); msg != nil {
		t.Errorf("behind the gate a step comes back with %+v, want nothing", msg)
	}
}
