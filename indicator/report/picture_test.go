package report_test

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/report"
	"example.org/trammel/indicator/session"
)

// said is what a test needs of a fit as the program writes it in JSON.
type said struct {
	Trial  int
	Touch  string
	Centre struct {
		X, Y struct{ Value float64 }
	}
	Offset    float64
	Residuals []float64
}

// fitsSaid are the fits that --json says, by the event that closes the sweep, setting by setting.
func fitsSaid(t *testing.T, name string) (out []map[int]said) {
	t.Helper()
	var s session.State
	for _, e := range records(t, name) {
		before := s
		s = s.Apply(e.Event)
		if _, opens := e.Event.(session.Opened); opens {
			out = append(out, map[int]said{})
		}
		for _, l := range lines.Of(session.Step{Before: before, Event: e.Event, After: s}, geom.Millimetre) {
			text, err := json.Marshal(l)
			if err != nil {
				t.Fatal(err)
			}
			var kind struct{ Say string }
			var f said
			if err := json.Unmarshal(text, &kind); err != nil || kind.Say != "fit" {
				continue
			}
			if err := json.Unmarshal(text, &f); err != nil {
				t.Fatal(err)
			}
			out[len(out)-1][e.N] = f
		}
	}
	return out
}

var (
	markAt = regexp.MustCompile(`class="mark" cx="([0-9.-]+)" cy="([0-9.-]+)"`)
	barOf  = regexp.MustCompile(`class="scale" x1="8" y1="[0-9.]+" x2="([0-9.]+)"`)
	barIs  = regexp.MustCompile(`bar ([0-9.e-]+) mm`)
	nameAt = regexp.MustCompile(`text-anchor="middle">([+−-][0-9.]+)</text>`)
)

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// marks measures a square picture by its own bar: where its marks lie from the middle, in millimetres.
func marks(t *testing.T, pic string) (at [][2]float64, perMM float64) {
	t.Helper()
	bar, is := barOf.FindStringSubmatch(pic), barIs.FindStringSubmatch(pic)
	if bar == nil || is == nil {
		t.Fatalf("no bar in %q", pic)
	}
	perMM = (number(t, bar[1]) - 8) / number(t, is[1])
	for _, m := range markAt.FindAllStringSubmatch(pic, -1) {
		at = append(at, [2]float64{(number(t, m[1]) - 120) / perMM, (120 - number(t, m[2])) / perMM})
	}
	return at, perMM
}

// What is drawn is what --json says of the same trial: the centre's place, every residual, and the figure
// under each mark of the course. The drawing alone is measured, by its bar; it is written to hundredths.
func TestPicturesAreTheJSON(t *testing.T) {
	seen := 0
	for _, name := range journals {
		fits := fitsSaid(t, name)
		r := report.New(name, records(t, name), func(geom.Unit) geom.Unit { return geom.Millimetre })
		if len(r.Settings) != len(fits) {
			t.Fatalf("%s: %d settings, %d opened", name, len(r.Settings), len(fits))
		}
		for i := range r.Settings {
			set := &r.Settings[i]
			for j := range set.Sweeps {
				w := &set.Sweeps[j]
				f, ok := fits[i][w.Event]
				if !ok || w.Err != nil {
					t.Errorf("%s, setting %d, trial %d: no fit said, or none reported (%v)", name, i+1, w.Trial, w.Err)
					continue
				}
				seen++
				drawn(t, fmt.Sprintf("%s, setting %d, trial %d", name, i+1, w.Trial), w, &f)
			}
			courses := set.Converged()
			labels := nameAt.FindAllStringSubmatch(string(courses[len(courses)-1]), -1)
			if len(labels) != len(set.Sweeps) {
				t.Fatalf("%s: %d figures under %d trials", name, len(labels), len(set.Sweeps))
			}
			for j, l := range labels {
				if got, want := number(t, l[1]), fits[i][set.Sweeps[j].Event].Offset; math.Abs(got-want) > 0.5001e-3 {
					t.Errorf("%s, trial %d: %v under the mark, %v said", name, set.Sweeps[j].Trial, got, want)
				}
			}
		}
	}
	if seen < 8 {
		t.Errorf("%d sweeps compared, want at least 8", seen)
	}
}

func drawn(t *testing.T, what string, w *report.Sweep, f *said) {
	t.Helper()
	at, perMM := marks(t, string(w.Centre()))
	// Half a hundredth in the mark, and as much in the bar, which is up to 96 of the 96 to the rim.
	near := 0.02 / perMM
	if len(at) != 1 || math.Abs(at[0][0]-f.Centre.X.Value) > near || math.Abs(at[0][1]-f.Centre.Y.Value) > near {
		t.Errorf("%s: the centre is drawn at %v mm, said to be at %v, %v", what, at, f.Centre.X.Value, f.Centre.Y.Value)
	}
	at, perMM = marks(t, string(w.Polar()))
	if len(at) != len(f.Residuals) {
		t.Fatalf("%s: %d marks, %d residuals said", what, len(at), len(f.Residuals))
	}
	out := 1.0 // a reading too large: round a boss the surface is farther out, in a bore nearer the axis
	if f.Touch == "bore" {
		out = -1
	}
	for k, p := range at {
		if got, want := math.Hypot(p[0], p[1])-78/perMM, out*f.Residuals[k]; math.Abs(got-want) > 0.03/perMM+1e-9 {
			t.Errorf("%s: reading %d is drawn %.5f mm out, said to be %.5f", what, k+1, got, want)
		}
	}
}
