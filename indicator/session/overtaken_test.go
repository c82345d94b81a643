package session_test

import (
	"testing"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// A misread at station 2 that is found only later bends what is expected of the stations behind it. Once it is put right,
// left out or read again they stand as what they are, for the needle of this machine shows what the circle shows; what each
// came to when it was entered stays on record. The misread itself, entered before anything could be expected, never was a
// surprise.
func TestBlameIsJudgedAnew(t *testing.T) {
	o := with(t, func(j *setup.Job) {
		j.Sweep.Stations, j.Target.Tolerance, j.Target.CentreTolerance = 8, 0.01, 0.01
		j.Sweep.AtLeast = 8
	})
	for name, settle := range map[string]session.Command{"corrected": session.Correct{}, "left out": session.Skip{}, "read again": nil} {
		w := near42(-0.3, 0.02, -0.01)
		p := misread(t, o, w, map[int]func(float64) float64{2: func(r float64) float64 { return r + 0.1 }})
		s := p.state()
		if s.Doubt.Station != 2 {
			t.Fatalf("%s: station %d is in doubt, want 2", name, s.Doubt.Station)
		}
		blamed := 0
		for _, st := range s.Sweep.Stations[:s.Sweep.N] {
			if st.Surprise {
				blamed++
			}
			if st.Overtaken {
				t.Errorf("%s: overtaken while the misread stands", name)
			}
		}
		if blamed == 0 {
			t.Fatalf("%s: no station was a surprise behind the misread, so nothing is shown here", name)
		}
		if settle == nil {
			p.answer(1)
		} else {
			p.do(settle)
		}
		now := 0
		for i, st := range p.state().Sweep.Stations[:s.Sweep.N] {
			if !st.Surprise {
				continue
			}
			if now++; !st.Overtaken || st.OffBy != s.Sweep.Stations[i].OffBy {
				t.Errorf("%s: station %d: overtaken %v, off by %v; want it overtaken, off by %v as when it was entered", name, i+1,
					st.Overtaken, st.OffBy, s.Sweep.Stations[i].OffBy)
			}
		}
		if now != blamed {
			t.Errorf("%s: %d stations were a surprise, %d still are on record as having been one", name, blamed, now)
		}
	}
}

// What does not fit the others as the sweep ended keeps its mark: nobody has read it again.
func TestBlameThatIsDueStays(t *testing.T) {
	o := with(t, func(j *setup.Job) { j.Sweep.Stations = 8; j.Sweep.AtLeast = 8 })
	p := open(t, o, near42(-0.3, 0.02, -0.01)).until(session.ForReading)
	for range 5 {
		p.answer(1)
	}
	p.slip(func(r float64) float64 { return r + 0.1 })
	p.do(session.Enough{})
	if st := p.state().Sweep.Stations[5]; !st.Surprise || st.Overtaken {
		t.Errorf("station 6, misread and closed over: surprise %v, overtaken %v; want true, false", st.Surprise, st.Overtaken)
	}
}
