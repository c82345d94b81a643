package session_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// fuzzSettings are the jobs that FuzzDecide chooses from.
func fuzzSettings(t testing.TB) []session.Opened {
	var out []session.Opened
	for _, change := range []func(*setup.Job){
		func(*setup.Job) {},
		func(j *setup.Job) { j.Sweep = setup.Sweep{Stations: 5, From: 90 * geom.Degree, To: 150 * geom.Degree} },
		func(j *setup.Job) { j.Target.SwingRadius, j.Target.Tolerance = 0, 0 },
		func(j *setup.Job) { j.Dial.From, j.Dial.To = -5e8, 5e8 },
		func(j *setup.Job) { j.Sweep.Stations, j.Dial.Repeatability = 3, 0 },
		func(j *setup.Job) { j.Sweep.Stations = indicator.MaxStations },
		func(j *setup.Job) { j.Setup.Touch, j.Setup.TipDiameter, j.Target.Tolerance = indicator.Boss, 2, 1e-4 },
		func(j *setup.Job) { j.Dial.From, j.Dial.To, j.Sweep.Stations = 0, 0, 4 },
		func(j *setup.Job) { j.Sweep.Obstacles = []setup.Obstacle{between(80, 130), between(200, 215)} },
		func(j *setup.Job) {
			j.Sweep = setup.Sweep{Stations: 3, To: 200 * geom.Degree, Obstacles: []setup.Obstacle{between(350, 380), between(100, 195)}}
		},
	} {
		out = append(out, with(t, change))
	}
	return out
}

var fuzzReadings = []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 5e-324, 0.8, -0.8, 0.8000001, 50, -50, 1e9, 29.999, 30,
	-29.999}

// fuzzCommand turns two bytes into a command. The honest answer is one of them, so that chance
// comes as far as the end of a setting.
func fuzzCommand(op, arg byte, p session.Prompt, sets []session.Opened, w *ideal) session.Command {
	switch op % 16 {
	case 0, 1:
		return session.Take{Reading: 0.9 * float64(int8(arg)) / 128}
	case 2:
		return session.Take{Reading: fuzzReadings[int(arg)%len(fuzzReadings)]}
	case 3:
		return session.Skip{Off: []session.Off{session.NotOff, session.Pressed, session.Free, "\xff"}[arg%4]}
	case 4:
		return session.Confirm{}
	case 5:
		return session.Undo{}
	case 6:
		return session.Restart{}
	case 7:
		return session.Enough{}
	case 8:
		return session.Accept{}
	case 9:
		return session.Note{Text: []string{"", "plate", "<&>\"", "µ\xff", "a\nb", string(rune(arg)) + "Ø"}[arg%6]}
	case 10:
		return session.Open{Opened: sets[int(arg)%len(sets)]}
	case 11:
		return session.Keep{}
	case 12:
		return session.Correct{}
	}
	if c, ok, _ := w.Do(p); ok {
		return c
	}
	return session.Open{Opened: sets[int(arg)%len(sets)]}
}

// FuzzDecide: whatever is said in whatever order, nothing crashes, a refusal leaves everything as
// it was, every event can be written, and the journal leads to the same state.
func FuzzDecide(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte("\x00\x0a\x00\x02\x00\x05\x00\x08\x00"))
	for which := range byte(8) {
		honest := []byte{10, which}
		for n := range byte(60) {
			honest = append(honest, 15, n)
		}
		f.Add(honest)
		odd := []byte{10, which}
		for n := range byte(80) {
			odd = append(odd, n*7, n*13, 15, n)
		}
		f.Add(odd)
	}
	sets := fuzzSettings(f)
	f.Fuzz(func(t *testing.T, data []byte) { anything(t, sets, data) })
}

// Sequences of 100 commands by chance, honest answers among them more or less often: as FuzzDecide,
// and the same each time.
func TestDecideByChance(t *testing.T) {
	sets := fuzzSettings(t)
	chance := rand.New(rand.NewPCG(1, 2))
	most := make(map[session.Phase]int)
	for n := range 120 {
		data := []byte{10, byte(n)}
		for range 100 {
			op := byte(chance.IntN(16))
			if chance.IntN(120) < n {
				op = 15
			}
			data = append(data, op, byte(chance.IntN(256)))
		}
		s := anything(t, sets, data)
		most[s.Phase] = max(most[s.Phase], s.Trial)
	}
	// Chance must come far enough to say something.
	if most[session.Sweeping] < 3 || most[session.Winding] < 2 || most[session.SettledDown] == 0 {
		t.Errorf("most trials by phase %v, want some of every phase", most)
	}
}

// anything says whatever data tells and holds everything that comes of it to be sound.
func anything(t *testing.T, sets []session.Opened, data []byte) session.State {
	t.Helper()
	mem := &session.Memory{}
	l := session.NewLive(session.State{}, mem)
	w := near42(0.1, 0.1, -0.1)
	for i := 0; i+1 < min(len(data), 202); i += 2 {
		before, lines := l.State(), len(mem.Lines)
		steps, err := l.Do(fuzzCommand(data[i], data[i+1], before.Prompt(), sets, w), begin)
		var refusal *session.Refusal
		if err != nil && !errors.As(err, &refusal) {
			t.Fatalf("event %d: %v", before.Events+1, err)
		}
		after := l.State()
		if refusal != nil && (after.Events != before.Events || after.Phase != before.Phase || after.Sweep.N != before.Sweep.N ||
			len(mem.Lines) != lines || len(steps) != 0) {
			t.Fatalf("refused (%v), and yet something happened: %d steps", err, len(steps))
		}
		if after.Events != len(mem.Lines) {
			t.Fatalf("%d events, %d lines", after.Events, len(mem.Lines))
		}
		sound(t, after)
	}
	s, err := session.Fold(mem.Lines, nil)
	if err != nil {
		t.Fatal(err)
	}
	wantSame(t, "replay", s, l.State())
	return s
}

// sound holds a state to what is true of every one between two commands.
func sound(t *testing.T, s session.State) {
	t.Helper()
	if s.Set == nil {
		if s.Phase != session.Unopened || s.Events != 0 {
			t.Fatalf("phase %d after %d events without a setting", s.Phase, s.Events)
		}
		return
	}
	if e, due := session.Follow(s); due {
		t.Fatalf("%T is still due", e)
	}
	finished := 0
	for p := s.Past; p != nil; p = p.Before {
		finished++
	}
	if s.Trial < 1 || finished != s.Trial-1 {
		t.Fatalf("trial %d with %d finished", s.Trial, finished)
	}
	if n := s.Sweep.N; n < 0 || n > min(indicator.MaxStations, 2*s.Plan().Stations) || s.Sweep.Readings() > n {
		t.Fatalf("%d entries, %d readings", n, s.Sweep.Readings())
	}
	if s.Doubt != nil && (s.Phase != session.Sweeping || s.Sweep.Closed != "") {
		t.Fatalf("station %d is doubted in phase %d, closed %q", s.Doubt.Station, s.Phase, s.Sweep.Closed)
	}
	between := s.Prompt().Reading.Between // the needle is looked at before the next wind is told
	if (s.Phase == session.Winding) != (s.Told != nil || between) || (s.Phase == session.SettledDown) && s.Sweep.Closed == "" {
		t.Fatalf("phase %d, told %+v, closed %q", s.Phase, s.Told, s.Sweep.Closed)
	}
	soundPrompt(t, &s)
}

// soundPrompt holds what is asked to what a person can do.
func soundPrompt(t *testing.T, s *session.State) {
	t.Helper()
	p := s.Prompt()
	if (p.Waits == session.ForNothing) != (s.Phase == session.Ended) {
		t.Fatalf("waits for %d in phase %d", p.Waits, s.Phase)
	}
	for _, m := range p.Wind.Moves {
		if m.Turns < 0 || m.Divisions < 0 || m.Divisions >= p.Wind.Slide.Divisions || m.Turn*m.Turn != 1 {
			t.Fatalf("slide %s, %v divisions: move %+v", p.Wind.Slide.Name, p.Wind.Slide.Divisions, m)
		}
	}
	switch p.Waits {
	case session.ForReading:
		from, to := s.Set.Job.Sweep.From, s.Set.Job.Sweep.To
		station := s.Sweep.N + 1
		if p.Reading.Between {
			station = len(s.Looked) + 1
		}
		if s.Doubt != nil {
			station = s.Doubt.Station
			st := s.Sweep.Stations[station-1]
			if !p.Reading.Again || station < 1 || station > s.Sweep.N || st.Skipped || !st.Asked || st.Bearing != p.Reading.Bearing {
				t.Fatalf("station %d is doubted, asked for once more %v at %v: %+v", station, p.Reading.Again, p.Reading.Bearing, st)
			}
		} else if p.Reading.Again {
			t.Fatal("a station is asked for once more, and nothing is doubted")
		}
		if hidden(s.Set.Job.Sweep.Obstacles, p.Reading.Bearing) {
			t.Fatalf("station at %v°, obstacles %v", p.Reading.Bearing.Degrees(), s.Set.Job.Sweep.Obstacles)
		}
		if !(p.Reading.Bearing >= from-1e-9 && p.Reading.Bearing <= to+1e-9) || p.Reading.Station != station ||
			p.Reading.Of < p.Reading.Station {
			t.Fatalf("station %d of %d at %v, the sweep goes from %v to %v and has %d entries", p.Reading.Station, p.Reading.Of,
				p.Reading.Bearing, from, to, s.Sweep.N)
		}
	case session.ForWind:
		if p.Wind.Told.Step < 1 || p.Wind.Told.Step > p.Wind.Told.Of || len(p.Wind.Moves) == 0 {
			t.Fatalf("wind %d of %d with moves %+v", p.Wind.Told.Step, p.Wind.Told.Of, p.Wind.Moves)
		}
	case session.ForLoad:
		if len(p.Load.Moves) != 2 || p.Load.Slide.Name == "" {
			t.Fatalf("load %q with moves %+v", p.Load.Slide.Name, p.Load.Moves)
		}
	case session.ForNothing, session.ForCheck,
		session.ForBack, session.ForMoved, session.ForSize, session.ForAccept, session.ForAgain, session.ForDrift, session.ForChore:
	}
}
