package practice_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
)

// An arc about no hole, on drawn machines under a head and on a table, by readouts and by collars whose screws are stated
// within 0.02 over 100, in millimetres and inches, the drawing at any angle: the true centre of the cut lies within what is told
// of it in 95 of a hundred, and what is told to be inside is. How far the arc's centre truly lies from the axis the machine
// adds up by its own vectors; it is judged along X and along Y.
func TestAboutCovers(t *testing.T) { aboutCovers(t, 40, 1) }

// The same on a thousand, where traps are laid in hundreds.
func TestTrapAboutCovers(t *testing.T) {
	if runs, err := strconv.Atoi(os.Getenv("TRAMMEL_TRAPS")); err == nil {
		aboutCovers(t, 5*runs, 1000)
	}
}

func aboutCovers(t *testing.T, runs int, first uint64) {
	t.Helper()
	kinds := map[string][2]int{} // held, of how many
	all, inside, wrong := 0, 0, 0
	for i := range runs {
		seed := first + uint64(i)
		o := practice.Options{About: true, Turned: seed%2 == 0}
		kind := aboutKind{collar: seed/2%2 == 0, inch: seed/4%2 == 0}
		beside, off, verdict := aboutPlayed(t, seed, o, kind)
		k := kinds[fmt.Sprint(o.Turned, kind)]
		for _, v := range beside {
			k[1]++
			if math.Abs(v.V) <= v.U {
				k[0]++
				all++
			}
		}
		kinds[fmt.Sprint(o.Turned, kind)] = k
		if verdict {
			if inside++; off > aboutTolerance {
				wrong++
			}
		}
	}
	runs *= len([]string{"x", "y"})
	t.Logf("held %d of %d (%v); %d told to be inside, %d of them wrongly", all, runs, kinds, inside, wrong)
	sd := 3 * math.Sqrt(0.95*0.05*float64(runs))
	if least := 0.95*float64(runs) - sd; float64(all) < least {
		t.Errorf("the true centre lies within what is told %d of %d times, need %.1f", all, runs, least)
	}
	for k, n := range kinds {
		if least := 0.95*float64(n[1]) - 3*math.Sqrt(0.95*0.05*float64(n[1])); float64(n[0]) < least {
			t.Errorf("turned and kind %s: %d of %d times, need %.1f", k, n[0], n[1], least)
		}
	}
	if inside == 0 || float64(wrong) > 0.05*float64(inside) {
		t.Errorf("%d told to be inside, %d of them wrongly, need one of twenty at most", inside, wrong)
	}
}

// aboutKind is how a drawn machine is measured: by collars, in inches.
type aboutKind struct{ collar, inch bool }

// aboutTolerance is what the drawn job lets the centre be off, mm.
const aboutTolerance = 0.02

// aboutScale is what a screw is stated to be out over 100 of its way.
const aboutScale = 0.02

// aboutPlayed plays a drawn machine to its accepted setting: how far the true centre lies beside what was told of it along X and
// along Y, with how far it may, how far it lies off the axis, and whether it was told to be inside.
func aboutPlayed(t *testing.T, seed uint64, o practice.Options, kind aboutKind) (beside [2]indicator.Value, off float64, inside bool) {
	t.Helper()
	d := practice.Draw(seed, o)
	if kind.collar {
		rng := rand.New(rand.NewPCG(seed, 77))
		for _, s := range []*practice.Slide{&d.X, &d.Y} {
			s.Gain, s.Wobble = 1+aboutScale/100*(2*rng.Float64()-1), 0
		}
		d.Machine = []byte(strings.ReplaceAll(string(d.Machine), "readout = true", "readout = false"))
		d.Job = []byte(strings.Replace(string(d.Job), "slide_error_per_100 = 0", fmt.Sprint("slide_error_per_100 = ", aboutScale), 1))
	}
	if kind.inch {
		d.Job = inches(t, d.Job)
	}
	set, err := filesOf(&d)
	if err != nil {
		t.Fatalf("machine %d: %v\n%s", seed, err, d.Job)
	}
	m, live := practice.New(d.World, seed), session.NewLive(session.State{}, &session.Memory{})
	if _, err := live.Do(session.Open{Opened: set}, time.Time{}); err != nil {
		t.Fatal(err)
	}
	if err := m.Play(live, func() time.Time { return time.Time{} }, func(session.Step) {}); err != nil {
		t.Fatalf("machine %d: %v", seed, err)
	}
	s := live.State()
	f, err := s.Fit()
	g, ok := s.Standing(&f)
	if !s.Accepted() || err != nil || !ok {
		t.Fatalf("machine %d: %v, accepted %v, standing known %v", seed, err, s.Accepted(), ok)
	}
	if a, ok := s.Away(&f); !ok || a.Way < 14 {
		t.Fatalf("machine %d: %+v (%v), want it gone to the arc's centre", seed, a, ok)
	}
	truly := m.Truth()
	x, y := g.CentreX(), g.CentreY()
	beside = [2]indicator.Value{{V: truly.CentreX - x.V, U: x.U}, {V: truly.CentreY - y.V, U: y.U}}
	return beside, math.Hypot(truly.CentreX, truly.CentreY), s.Verdicts(&f).Centre == indicator.Inside
}

// inches writes a job's lengths in inches; what is an angle, a count or a part of something stays.
func inches(t *testing.T, job []byte) []byte {
	t.Helper()
	var out []string
	for _, line := range strings.Split(string(job), "\n") {
		key, value, _ := strings.Cut(line, " = ")
		switch key {
		case "unit":
			line = `unit = "in"`
		case "reference_radius", "reference_radius_error", "reference_form_error", "reach", "reach_error", "sweep_height",
			"swing_radius", "tolerance", "centre_tolerance", "graduation", "revolution", "range", "error", "repeatability":
			var v float64
			if _, err := fmt.Sscan(value, &v); err != nil {
				t.Fatal(err)
			}
			line = fmt.Sprintf("%s = %.9f", key, v/25.4)
		case "reference_at", "centre_at":
			var x, y float64
			if _, err := fmt.Sscanf(value, "[%g, %g]", &x, &y); err != nil {
				t.Fatal(err)
			}
			line = fmt.Sprintf("%s = [%.9f, %.9f]", key, x/25.4, y/25.4)
		}
		out = append(out, line)
	}
	return []byte(strings.Join(out, "\n"))
}
