package lines_test

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// ringed is a bore of radius 30 with its middle at c from the head axis, and the spindle at r from that, the tip 12 nearer.
type ringed struct{ r, cx, cy float64 }

// needle is what the dial shows towards a bearing in degrees: how far the tip is pressed beyond the wall. The wall lies where the ray
// from the axis is 30 from c, |c + w| = 30 with w from c to the wall; found by halving, for no formula of the program's.
func (g ringed) needle(deg float64) float64 {
	u, v := math.Cos(deg*math.Pi/180), math.Sin(deg*math.Pi/180)
	in, out := 0.0, 60.0
	for range 80 {
		if mid := (in + out) / 2; math.Hypot(mid*u-g.cx, mid*v-g.cy) < 30 {
			in = mid
		} else {
			out = mid
		}
	}
	return g.r - 12 - in
}

// wound is the bore as it lies once a slide has gone by so much.
func (g ringed) wound(slide string, by float64) ringed {
	switch slide {
	case "x":
		g.cx -= by
	case "y":
		g.cy -= by
	default:
		g.r += by
	}
	return g
}

// tipTold is how the tip is told while a slide goes by its collar: the bearing in degrees, or clear.
func tipTold(t *testing.T, s *session.State) (deg float64, clear bool) {
	t.Helper()
	first, at := lines.FirstWords(s), lines.TipWords(s)
	if first == "tip clear of the work" {
		return 0, true
	}
	words := strings.TrimPrefix(first, "swing to ") + strings.TrimPrefix(at, "with the head at ")
	deg, err := strconv.ParseFloat(strings.TrimSuffix(words, "°"), 64)
	if err != nil {
		t.Fatalf("first %q, at %q: no place, and the tip is not clear", first, at)
	}
	return deg, false
}

// While a slide goes by its collar the needle stays on a dial of ±0.8 where the head is told to stand, backed off by half a turn too,
// or else the tip is cleared first. By hand, from 43.2 with the middle at (-1.2, -0.9): behind the wind of x at 225° the needle would
// end at 1.2 where y goes by the collar from there.
func TestTipWhileASlideGoesByItsCollar(t *testing.T) {
	told := map[string]int{}
	for _, start := range []ringed{{43.2, -1.2, -0.9}, {41.7, 0.11, -0.15}, {41.4, 0.5, 0.3}, {42.9, 0.9, 0}} {
		for _, byCollar := range []bool{false, true} {
			o := testdata.Setting(t, practice.BenchJob, practice.BenchMachine)
			for i := range o.Machine.Slides {
				o.Machine.Slides[i].ByCollar = byCollar
			}
			winds(t, o, start, told)
		}
	}
	for _, how := range []string{"stays", "swings", "clear"} {
		if told[how] == 0 {
			t.Errorf("%v: never %s", told, how)
		}
	}
}

// winds plays a trial by the book and looks at every wind by the collar.
func winds(t *testing.T, o session.Opened, g ringed, told map[string]int) {
	t.Helper()
	live := session.NewLive(session.State{}, &session.Memory{})
	do := func(c session.Command) {
		if _, err := live.Do(c, time.Time{}); err != nil {
			t.Fatal(err)
		}
	}
	at := math.NaN() // where the head was swung last
	for do(session.Open{Opened: o}); ; {
		s := live.State()
		switch p := s.Prompt(); {
		case s.Trial > 1 || p.Waits == session.ForAccept || p.Waits == session.ForBack:
			return
		case p.Waits == session.ForReading:
			at = p.Reading.Bearing.Degrees360()
			do(read(g.needle(at)))
		case p.Waits == session.ForWind && p.Wind.How == session.UnderNeedle:
			at = p.Wind.Told.Park.Bearing.Degrees360()
			g = g.wound(p.Wind.Slide.Name, p.Wind.Told.Wind.Travel)
			do(session.Confirm{})
		case p.Waits == session.ForWind:
			g = collarWind(t, &s, g, at, told)
			do(session.Confirm{})
		default:
			do(session.Confirm{})
		}
	}
}

func read(m float64) session.Command {
	switch {
	case m > 0.8:
		return session.Skip{Off: session.Pressed}
	case m < -0.8:
		return session.Skip{Off: session.Free}
	}
	return session.Take{Reading: math.Round(m*500) / 500}
}

// collarWind is the bore behind a wind by the collar; at is where the head stood last.
func collarWind(t *testing.T, s *session.State, g ringed, at float64, told map[string]int) ringed {
	t.Helper()
	sl, by := s.Prompt().Wind.Slide, s.Told.Wind.Travel
	way := []ringed{g, g.wound(sl.Name, by)}
	if len(s.Told.Wind.Moves) > 1 {
		way = append(way, g.wound(sl.Name, by-float64(sl.TakeUp)*(1-sl.Backlash))) // half a turn of 2, or 100 of 200 divisions of 4
		if sl.Name == "y" {
			way[2] = g.wound(sl.Name, by-float64(sl.TakeUp)*(2-sl.Backlash))
		}
	}
	on := func(deg float64) bool {
		for _, g := range way {
			if math.Abs(g.needle(deg)) > 0.8 {
				return false
			}
		}
		return true
	}
	deg, clear := tipTold(t, s)
	switch {
	case clear:
		told["clear"]++
		return way[1]
	case !on(deg):
		t.Errorf("%s by %.3f: the head at %v°, where the needle leaves the dial: %v", sl.Name, by, deg, way)
	}
	if math.Abs(math.Remainder(deg-at, 360)) > 0.01 {
		told["swings"]++
		return way[1]
	}
	told["stays"]++
	return way[1]
}
