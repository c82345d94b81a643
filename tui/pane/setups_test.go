package pane

import (
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/session"
)

// byPoints has the circle touched from inside with a finder of 6 mm, on readouts of 5 µm.
func byPoints(o *session.Opened) {
	o.Job.Setup = indicator.Setup{Kind: indicator.Points, Touch: indicator.Bore, ReferenceRadius: 30, TipDiameter: 6}
	o.Job.Target.SwingRadius, o.Job.Target.Tolerance = 0, 0
	o.Job.Dial = indicator.Dial{Graduation: 0.005, ReadsTo: 1, Repeatability: 0.003}
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].Readout = true
	}
}

// byTaps lays the plate loose on a rotary table.
func byTaps(o *session.Opened) {
	onTable(o)
	o.Job.Setup.Taps = true
}

// touch touches up to n points of a circle of 27 about 12.34, −3.21, which is where the finder's middle runs.
func (b *bench) touch(n int) *bench {
	b.t.Helper()
	for i := 0; i < n && b.prompt().Waits == session.ForReading; i++ {
		u := b.prompt().Reading.Bearing.Unit()
		rho := 27 + scatter[i%len(scatter)]
		at := geom.Point{X: 12.34 + rho*u.X, Y: -3.21 + rho*u.Y}
		step := func(v float64) float64 { return math.Round(v/0.005) * 5 / 1000 }
		b.do(session.TouchPoint{At: geom.Point{X: step(at.X), Y: step(at.Y)}})
	}
	return b
}

// setupScenes are the states of the job by points, and with work that is tapped.
func setupScenes() []scene {
	points := func(n int) func(testing.TB) *bench {
		return func(t testing.TB) *bench { return begin(t, byPoints).touch(n) }
	}
	return []scene{
		{"points-0", points(0), nil},
		{"points-3", points(3), func(v *View) { v.Entry = "12.345 -3.2" }},
		{"points-go-x", points(6), nil},
		{"points-settled", func(t testing.TB) *bench { return begin(t, byPoints).touch(6).answer(9, session.ForAccept) }, nil},
		{"taps-stations-2", func(t testing.TB) *bench { return begin(t, byTaps).answer(1+2, never) }, nil},
		{"taps-one", func(t testing.TB) *bench { return begin(t, byTaps).answer(20, session.ForWind) }, nil},
		{"taps-back", func(t testing.TB) *bench { // it went 30 µm too far
			b := begin(t, byTaps).answer(20, session.ForWind)
			k := b.prompt().Wind.Told.Park
			return b.do(session.Take{Reading: k.Goal + math.Copysign(0.03, k.Goal-k.Now)})
		}, nil},
	}
}

// whole is a screen of 80×24 as the root lays it out: work beside picture, over the action.
func whole(v *View) string {
	const w, left = 80, workWidth
	next := Next(v, w, 24)
	h := 24 - next.Height() - 4
	work, picture := strings.Split(Work(v, left, h), "\n"), strings.Split(Picture(v, w-left, h), "\n")
	rows := []string{Aim(v, w), Rule(v.Theme, w)}
	for i := range work {
		rows = append(rows, work[i]+picture[i])
	}
	rows = append(rows, Rule(v.Theme, w), next.Draw(v.Theme, w, next.Height()), Keys(v, bindings(v), w))
	return strings.Join(rows, "\n")
}

func TestSetupScreens(t *testing.T) {
	for _, s := range setupScenes() {
		t.Run(s.name, func(t *testing.T) {
			out := whole(s.see(t, false))
			for i, row := range strings.Split(out, "\n") {
				if n := lipgloss.Width(row); n > 80 {
					t.Errorf("row %d is %d cells wide, want at most 80", i+1, n)
				}
			}
			golden(t, "setups/"+s.name, out)
		})
	}
}

// The zones keep to their size whatever the window.
func TestSetupSizes(t *testing.T) {
	for _, s := range setupScenes() {
		for _, plain := range []bool{false, true} {
			v := s.see(t, plain)
			for w := 20; w <= 120; w += 7 {
				for h := 1; h <= 30; h += 3 {
					for name, zone := range map[string]string{"work": Work(v, w, h), "picture": Picture(v, w, h), "next": nextIn(v, w, h),
						"setup": Setup(v, w, h).Draw(0)} {
						if lipgloss.Height(zone) > h || lipgloss.Width(zone) > w {
							t.Fatalf("%s %s at %d×%d is %d×%d", s.name, name, w, h, lipgloss.Width(zone), lipgloss.Height(zone))
						}
					}
				}
			}
		}
	}
}
