package gauge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
)

// up is a wind of a slide that is brought up with its needle rising, from −0.2 to 0.1; off is one that is wound off first, from
// 0.3 past −0.02.
var (
	up = Wanted{Start: -0.2, Room: 0.03, Parked: true, Goal: 0.1, Rises: true, Band: 0.005, Near: 0.04, Back: -0.02,
		From: -0.8, To: 0.8, Revolution: 1}
	off = func() Wanted { w := up; w.Start, w.Past = 0.3, new(float64); *w.Past = -0.02; return w }()
)

// falling is the same wind where the needle falls.
func falling(w Wanted) Wanted {
	w.Rises, w.Start, w.Goal, w.Back = false, -w.Start, -w.Goal, -w.Back
	if w.Past != nil {
		p := -*w.Past
		w.Past = &p
	}
	return w
}

// watch shows a wind what the needle does: figures, one of which ends in s where it stands still there. What comes back is each
// change, with an ! for every ring.
func watch(a *Approach, shown string) (told []string) {
	was := a.Progress
	for _, f := range strings.Fields(shown) {
		if f == "lost" {
			a.Lose()
			continue
		}
		var v float64
		fmt.Sscanf(f, "%g", &v)
		mean := &v
		if !strings.HasSuffix(f, "s") {
			mean = nil
		}
		rings := a.See(v, mean)
		if a.Progress != was || rings > 0 {
			told = append(told, a.Progress.String()+strings.Repeat("!", rings))
		}
		was = a.Progress
	}
	return told
}

func TestApproach(t *testing.T) {
	lock := off
	lock.Locks = 0.06
	swung := off
	swung.Parked = false
	for _, tt := range []struct {
		name   string
		wanted Wanted
		shown  string
		told   string
	}{
		{"straight up", up, "-0.2s -0.15 -0.1 0 0.05 0.08 0.098 0.101 0.1s", "ready coming close! there stands!!"},
		{"fast into the band", up, "-0.2s -0.1 0.1 0.1s", "ready coming there! stands!!"},
		{"off and up", off, "0.3s 0.2 0.1 0 -0.02 -0.03 -0.03 -0.03 -0.02 0.03 0.07 0.099 0.1s",
			"ready outward turning coming close! there stands!!"},
		{"stands at the goal on the way off", off, "0.3s 0.2 0.1s 0.1s", "ready outward"},
		{"a spike is no turning point", off, "0.3s 0.1 -0.5 0.1 0.1s", "ready outward"},
		{"a spike is not too far", up, "-0.2s 0 0.1 0.3 0.1 0.1s", "ready coming there! stands!!"},
		{"too far", up, "-0.2s 0 0.09 0.11 0.12 0.13 0.1 0.1s 0.05s 0 -0.03 -0.03 0.08 0.1s",
			"ready coming close! there over! turning close! stands!!"},
		{"too far by a little", up, "-0.2s 0 0.09 0.106 0.106s 0.1s", "ready coming close! there over!"},
		{"too far, off and up", off, "0.3s 0.1 -0.03 -0.03 0.08 0.12 0.12 0.12 0.1s -0.01 -0.01 0.1s -0.02 -0.02 0.1s",
			"ready outward turning close! there over! turning stands!!"},
		{"astray", up, "-0.2s -0.22 -0.24 -0.26 -0.2 0.1s", "ready coming astray! ready stands!!"},
		{"astray, off and up", off, "0.3s 0.31 0.36 0.3", "ready outward astray! ready"},
		{"trembles astray", off, "0.3s 0.335 0.328 0.335 0.328 0.31 0.335", "ready astray! outward astray!"},
		{"swung to where it is parked", up, "0.1s 0.3 0.3 0.3 0.1 -0.3 -0.21 -0.2s -0.1", "ready coming"},
		{"swung there, off and up", off, "0.1s -0.3 -0.3 0.3 0.31s 0.1 0.1s", "ready outward"},
		{"wound at once", off, "0.32 0.2 -0.02 -0.03 0.05 0.1s", "stands!!"},
		{"trembles at an edge", up, "-0.2s 0 0.058 0.062 0.058 0.062 0.094 0.096 0.094 0.096 0.094", "ready coming close! there"},
		{"trembles as it stands", up, "-0.2s 0.1 0.1s 0.106 0.1s 0.094 0.1s", "ready there! stands!! there stands there stands"},
		{"trembles at an edge as it stands", up, "-0.2s 0.094s 0.0955s 0.094s 0.0955s 0.106s 0.104s", "ready close! stands!!"},
		{"stands at the edge", up, "-0.2s 0 0.096 0.094 0.094s 0.096 0.094s 0.097s", "ready coming there! close there close stands!!"},
		{"leaves and comes again", up, "-0.2s 0.07 0 -0.1 0.07 0.1s 0.07 0.1s", "ready close! coming close! stands!! close stands!!"},
		{"locked", lock, "0.3s -0.03 -0.03 0.1s 0.11 0.12 0.12 0.12s 0.12s 0.1s", "ready outward turning stands!! there moved stands"},
		{"not locked in", lock, "0.3s -0.03 -0.03 0.12s 0.1s", "ready outward turning over!"},
		{"moved, unlocked", off, "0.3s -0.03 -0.03 0.1s 0.108s 0.1s", "ready outward turning stands!! over!"},
		{"lost, moved meanwhile", up, "-0.2s 0 lost 0.1 0.1s -0.03 -0.03 0.1s", "ready coming over! turning stands!!"},
		{"lost, not moved", up, "-0.2s 0.1 lost 0.101 0.1s", "ready there! stands!!"},
		{"lost on the way off", off, "0.3s 0.2 lost 0.1 0.1s", "ready outward"},
		{"off the dial", up, "-0.2s -0.9 -0.7 0.9 0.9 0.9 0.7", "ready beyond! astray! beyond! over!"},
		{"no figure", up, "-0.2s NaN 0.1s", "ready stands!!"},
		{"nothing to wind", Wanted{Start: 0.1, Room: 0.03, Goal: 0.1, Rises: true, Band: 0.005, Near: 0.04, Parked: true}, "0.102s 0.1s",
			"stands!!"},
		{"not parked", swung, "0.31s 0.308s 0.31s 0.302s", ""},
		{"parked by a swing", swung, "0.31s 0.33 0.1 0.28 0.3s 0.2", "ready outward"},
	} {
		for _, w := range []Wanted{tt.wanted, falling(tt.wanted)} {
			a, shown := NewApproach(w), tt.shown
			if !w.Rises {
				shown = " " + strings.ReplaceAll(shown, " ", "  ") // each sign the other way round
				shown = strings.NewReplacer(" -", " ", " 0", " -0", " l", " l").Replace(shown)
			}
			if got := strings.Join(watch(&a, shown), " "); got != tt.told {
				t.Errorf("%s, rises %v: told\n%s, want\n%s", tt.name, w.Rises, got, tt.told)
			}
		}
	}
}

// Where the needle stands elsewhere as the head is parked, the play is taken up anew, whichever way the slide came there: it never
// stands at its goal before it was past the turning point.
func TestParkedElsewhere(t *testing.T) {
	for _, w := range []Wanted{up, off} {
		for _, at := range []string{"0.2s", "0.15s", "0.02s"} {
			a := NewApproach(w)
			told := watch(&a, at)
			a.Park()
			told = append(told, watch(&a, at+" 0.05 0.1 0.1s -0.03 -0.03 0.1s")...)
			if got, want := strings.Join(told, " "), "turning stands!!"; got != want || !a.turned {
				t.Errorf("at %s: told %s, want %s", at, got, want)
			}
		}
	}
}

// What is to be reached, how far it is, and how much of the way is done.
func TestReach(t *testing.T) {
	a := NewApproach(off)
	for _, tt := range []struct {
		shown                    string
		off                      bool
		reach, left, part, turns float64
	}{
		{"0.3s", true, -0.02, 0.32, 0, 0},
		{"0.14", true, -0.02, 0.16, 0.5, 0},
		{"-0.14 -0.14", false, 0.1, 0.24, 0, 0},
		{"-0.08", false, 0.1, 0.18, 0.25, 0},
		{"0.1s", false, 0.1, 0, 1, 0},
		{"0.3 0.3 0.34", true, -0.02, 0.36, 0, 0},
		{"-1.2", true, -0.02, -1.18, 0, 1},
	} {
		watch(&a, tt.shown)
		got := []float64{a.Reach(), a.Left(), a.Part(), float64(a.Turns())}
		want := []float64{tt.reach, tt.left, tt.part, tt.turns}
		for i := range got {
			if math.Abs(got[i]-want[i]) > 1e-9 || a.Off() != tt.off {
				t.Errorf("at %s: off %v, %v, want %v, %v", tt.shown, a.Off(), got, tt.off, want)
				break
			}
		}
	}
}

// hand is a simulated hand at a handwheel: the slide follows it with play, and sticks until it is pushed by more than it slips.
type hand struct {
	play, stick float64 // mm of the slide
	nut, at     float64
	low         float64 // the least place since the slide was beyond its goal last
	rng         *rand.Rand
}

// turn moves the nut; the slide is pushed by the flank that it meets.
func (h *hand) turn(by float64) {
	h.nut += by
	for _, flank := range []float64{h.nut - h.play/2, h.nut + h.play/2} {
		if push := flank - h.at; push > 0 && flank < h.nut || push < 0 && flank > h.nut {
			if math.Abs(push) > h.stick*h.rng.Float64() {
				h.at = flank
			}
		}
	}
}

// Simulated hands wind slides with play that stick and slip, under a needle that trembles by a fifth of the band, and stop where
// the page says so: too far at times, and short of the turning point at times. It never says that the slide stands at its goal before the
// turning point was passed where the play must be taken up, and never where the slide stands beyond the band by more than the mean's
// doubt; and what was wound too far is said by the time that it stands still.
func TestApproachOfSimulatedSlides(t *testing.T) {
	runs := 1000
	if os.Getenv("TRAMMEL_TRAPS") != "" {
		runs = 30000
	}
	stands, overs := 0, 0
	for seed := range runs {
		rng := rand.New(rand.NewPCG(23, uint64(seed)))
		w := [...]Wanted{up, off, falling(up), falling(off)}[seed%4]
		s, o := playOne(t, w, rng)
		if stands, overs = stands+s, overs+o; t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	if stands < runs*9/10 || overs < runs/10 {
		t.Errorf("of %d winds %d came to stand and %d went too far: the simulation shows nothing", runs, stands, overs)
	}
}

// playOne winds once, by what the page says.
func playOne(t *testing.T, w Wanted, rng *rand.Rand) (stands, overs int) {
	a := NewApproach(w)
	h := &hand{play: 0.2 * rng.Float64(), stick: 0.004 * rng.Float64(), rng: rng, at: a.place(w.Start), low: math.Inf(1)}
	h.nut = h.at + h.play/2 // it was brought up
	steady := NewSteady(10, 0.01)
	back, needs, quick, lazy := a.place(w.Back), w.Past != nil, 0.004+0.02*rng.Float64(), rng.Float64() < 0.3
	rest, late, sent := 0, 0, 0
	for i := range 4000 {
		x := h.at + w.Band/5*rng.NormFloat64()
		v := w.Goal + x
		if !w.Rises {
			v = w.Goal - x
		}
		steady.Add(v, simTime(i))
		var mean *float64
		if m, err := steady.Mean(simTime(i)); err == nil {
			mean = &m.Value
		}
		if i%3 == 0 { // 16 a second reach the page
			a.See(v, mean)
			sent++
		}
		if h.low = min(h.low, h.at); h.at > w.Band*leaves*1.2 {
			late++
		} else {
			late = 0
		}
		if needs = needs && h.low > back+w.Band; a.Progress == Stands && (needs || math.Abs(h.at) > 1.3*w.Band) {
			t.Errorf("it stands at %v beside its goal, the turning point passed: %v", h.at, !needs)
			return
		}
		began := a.Progress != Unseen && !(w.Past != nil && !a.turned)
		if late > 30 && began && a.Progress != Over { // half a second
			t.Errorf("at %v past its goal: %v", h.at, a.Progress)
			return
		}
		if a.Progress == Over && !needs {
			overs++
			needs, h.low = true, math.Inf(1)
		}
		if rest > 0 {
			rest--
			continue
		}
		switch a.Progress {
		case Stands:
			return 1, overs
		case Unseen:
		case Over, Outward:
			h.turn(-quick * rng.Float64())
			if lazy && rng.Float64() < 0.05 { // turns back where it must not
				lazy, rest = false, 15
				h.turn(h.play + rng.Float64()*(back-h.at)/-2)
			}
		case Ready:
			if h.turn(quick * rng.Float64()); a.Off() {
				h.turn(-2 * quick * rng.Float64())
			}
		case Astray, Turning, Coming, Beyond:
			h.turn(quick * rng.Float64())
		case Close:
			h.turn(0.003 * rng.Float64())
			rest = 4
			if rng.Float64() < 0.02 {
				h.turn(0.05)
			}
		case There, Moved:
			rest = 4
			if rng.Float64() < 0.02 {
				h.turn(0.01)
			}
		}
	}
	return 0, overs
}
