package session

import (
	"math"
	"testing"

	"example.org/trammel/geom/fit"
)

// A fit that a state has kept is that of the state, whatever happened since: of every event of the golden journals, and of
// what only asks for it after the one before has been kept.
func TestKeptFitIsTheStates(t *testing.T) {
	lines, numbers := goldenLines(t)
	var s State
	kept := 0
	for i, l := range lines {
		if numbers[i] == 1 {
			s = State{}
		}
		r, err := Decode(numbers[i], l)
		if err != nil {
			t.Fatal(err)
		}
		s = s.Apply(r.Event)
		if s.Set == nil {
			continue
		}
		if _, _, ok := s.known(); ok {
			kept++
		}
		s.keepFit()
		got, gotErr := s.Fit()
		want, wantErr := s.fitWithout(0)
		if (gotErr == nil) != (wantErr == nil) || gotErr == nil && (got.Circle.Level != want.Circle.Level ||
			got.Circle.Centre != want.Circle.Centre ||
			got.Dof != want.Dof || math.Float64bits(got.Change.V) != math.Float64bits(want.Change.V) || got.Setup != want.Setup) {
			t.Fatalf("event %d (%s): kept %+v (%v), is %+v (%v)", r.N, r.Event.row().Kind, got, gotErr, want, wantErr)
		}
		swing, ok := s.swept()
		if of := want.Swing(); ok != (wantErr == nil) || ok && (!sameBits(swing.V, of.V) || !sameBits(swing.U, of.U)) {
			t.Fatalf("event %d (%s): swing radius %+v kept, is %+v", r.N, r.Event.row().Kind, swing, of)
		}
	}
	if kept < len(lines)/4 {
		t.Errorf("a fit was kept over %d of %d events, want a good part of them", kept, len(lines))
	}
}

func sameBits(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }

// What is folded from a journal has the fit at hand behind a measured cut too, where nothing that it depends on has changed since.
func TestFitIsKeptBehindAMeasuredCut(t *testing.T) {
	lines, numbers := goldenLines(t)
	var s State
	behind := 0
	for i, l := range lines {
		if numbers[i] == 1 {
			s = State{}
		}
		r, err := Decode(numbers[i], l)
		if err != nil {
			t.Fatal(err)
		}
		looks := s.Bump != nil
		s = s.Apply(r.Event)
		if _, ok := r.Event.(Worked); !ok || looks || s.Phase != Cutting || s.roughCut() == nil || s.Sweep.Readings() < fit.MinStations {
			continue
		}
		if _, _, ok := s.known(); !ok {
			t.Errorf("event %d: the fit of the setting is not kept", r.N)
		}
		behind++
	}
	if behind < 10 {
		t.Errorf("%d steps behind a measured cut, want at least 10", behind)
	}
}
