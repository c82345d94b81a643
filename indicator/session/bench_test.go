package session_test

import (
	"math/rand/v2"
	"testing"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
)

// BenchmarkApply1000 applies a thousand events of whole settings, fits of every reading included.
func BenchmarkApply1000(b *testing.B) {
	all := events(b, bench(b, 7).until(session.ForNothing).mem.Lines)
	b.ReportAllocs()
	for b.Loop() {
		var s session.State
		for i := range 1000 {
			s = s.Apply(all[i%len(all)])
		}
		if s.Events != 1000 {
			b.Fatal(s.Events)
		}
	}
}

// BenchmarkFold100k reads a journal of a hundred thousand lines, setting after setting.
func BenchmarkFold100k(b *testing.B) {
	p := bench(b, 7).until(session.ForNothing)
	all := events(b, p.mem.Lines)
	var lines [][]byte
	bytes := 0
	for n := range 100_000 {
		line, err := session.Encode(n+1, begin, all[n%len(all)])
		if err != nil {
			b.Fatal(err)
		}
		lines = append(lines, line)
		bytes += len(line)
	}
	b.SetBytes(int64(bytes))
	b.ReportAllocs()
	for b.Loop() {
		s, err := session.Fold(lines, nil)
		if err != nil || s.Events != 100_000 {
			b.Fatal(err)
		}
	}
	testdata.ReportPeak(b, func(each func(session.Step)) {
		if _, err := session.Fold(lines, each); err != nil {
			b.Fatal(err)
		}
	})
}

// oneSetting is a hundred thousand events of one setting that never ends: readings, sweeps begun anew,
// remarks, undos, all of which undo could go back along.
func oneSetting(b *testing.B) [][]byte {
	b.Helper()
	p := bench(b, 7).until(session.ForReading)
	for len(p.mem.Lines) < 100_000 {
		p.answer(4)
		p.do(session.Undo{}, session.Note{Text: "chuck cleaned"}, session.Restart{})
		p.steps = nil
	}
	return p.mem.Lines[:100_000]
}

// BenchmarkFoldOneSetting is BenchmarkFold100k where nothing that undo needs may be let go.
func BenchmarkFoldOneSetting(b *testing.B) {
	lines := oneSetting(b)
	b.ReportAllocs()
	for b.Loop() {
		if s, err := session.Fold(lines, nil); err != nil || s.Events != 100_000 {
			b.Fatal(err)
		}
	}
	testdata.ReportPeak(b, func(each func(session.Step)) {
		if _, err := session.Fold(lines, each); err != nil {
			b.Fatal(err)
		}
	})
}

// BenchmarkStep steps to events by chance in a hundred thousand, as a replay does.
func BenchmarkStep(b *testing.B) {
	h := history(b, oneSetting(b))
	chance := rand.New(rand.NewPCG(1, 1))
	for b.Loop() {
		if _, _, ok := h.Step(1 + chance.IntN(h.Len())); !ok {
			b.Fatal("no step")
		}
	}
}

// BenchmarkAdvice12 is all that one reading costs at twelve stations: what was expected of it, the fit,
// the search for misreads by all pairs, the test of shape, the verdicts, and the next station. One run: 0.16 ms.
func BenchmarkAdvice12(b *testing.B) {
	o := with(b, func(j *setup.Job) {
		j.Sweep.Stations, j.Sweep.AtLeast = 12, 12
		j.Dial.From, j.Dial.To, j.Target.Tolerance, j.Target.CentreTolerance = 0, 0, 0.002, 0.002
	})
	p := open(b, o, near42(0.0015, 0.001, 0)).sweepTo(12)
	s := p.state()
	bearing, ok := s.NextBearing()
	if !ok {
		b.Fatal("no further station is asked for: there is no advice to measure")
	}
	b.ReportAllocs()
	for b.Loop() {
		after := s.Apply(session.Took{Bearing: bearing, Reading: 0.001})
		f, err := after.Fit()
		if err != nil {
			b.Fatal(err)
		}
		bearings, readings, _ := after.Readings(&f)
		f.Shape(bearings, readings)
		if _, due := session.Follow(after); !due {
			after.Prompt()
		}
	}
}
