package job_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// From the two files and four readings to the winds, with the signs worked out by hand from the
// picture at the machine. The same four settings are in the parent package's TestFourSigns, which
// says why 18.61 is met at 19.21 and 17.99 when it stands 0.61 off along each axis.
//
// The machine, by hand: every slide has 0.02 mm to a division.
//
//	x       2 mm a turn, 100 divisions; clockwise moves the spindle right (+), which is the take-up
//	        way. Going left it is wound 1 mm (half a turn, 50 divisions) past and brought back.
//	y       4 mm a turn, 200 divisions, left-hand: clockwise brings the spindle towards the operator
//	        (−), which is the take-up way. Going away it is wound 2 mm (100 divisions) past.
//	offset  2 mm a turn, 100 divisions; clockwise makes the swing smaller (−), take-up is larger (+).
//	        Going smaller it is wound 1 mm past and brought back.
const windMachine = `unit = "mm"
[slide.x]
travel_per_turn = 2
divisions = 100
clockwise = "increase"
take_up = "increase"
backlash = 0.15
by_collar = true
[slide.y]
travel_per_turn = 4
divisions = 200
clockwise = "decrease"
take_up = "decrease"
backlash = 0.15
by_collar = true
[slide.offset]
travel_per_turn = 2
divisions = 100
clockwise = "decrease"
take_up = "increase"
backlash = 0.15
by_collar = true
`

const windJob = `unit = "mm"
[setup]
kind = "carried"
touch = "%s"
reference_radius = 18.61
reach = %v
[target]
swing_radius = %v
tolerance = 0.02
centre_tolerance = 0.02
[sweep]
stations = 4
to = 270
[dial]
graduation = 0.01
range = 1.6
repeatability = 0.003
`

// windWant is one wind as worked out by hand.
type windWant struct {
	slide  string
	travel float64
	moves  []slide.Move
}

const (
	cw  = slide.Clockwise
	acw = slide.Anticlockwise
)

var firstWinds = []struct {
	name, touch   string
	reach, target float64
	readings      []float64
	winds         []windWant
}{
	{
		// The ring stands right of the axis and towards the operator: the wall on the right and in
		// front is far, the needle falls back there. The spindle has to go right by 0.61 and
		// towards the operator by 0.61, both the take-up way: 0.61/0.02 = 30.5 divisions each. The
		// mean tip stands 0.05 too far out: 30.05 has to come down by 0.05, against the take-up:
		// 1.05/0.02 = 52.5 and 50 back.
		"bore, reach in", "bore", -11.40, 30, []float64{-0.56, 0.66, 0.66, -0.56},
		[]windWant{
			{"x", 0.61, []slide.Move{{Turn: cw, Divisions: 30.5}}},
			{"y", -0.61, []slide.Move{{Turn: cw, Divisions: 30.5}}},
			{"offset", -0.05, []slide.Move{{Turn: cw, Divisions: 52.5}, {Turn: acw, Divisions: 50}}},
		},
	},
	{
		// The ring stands left and towards the operator. Left by 0.61 is against x's take-up:
		// 1.61/0.02 = 80.5 and 50 back. The swing of 11.90 has to grow by 0.10: 5 divisions.
		"bore, reach out", "bore", 6.60, 12, []float64{0.51, 0.51, -0.71, -0.71},
		[]windWant{
			{"x", -0.61, []slide.Move{{Turn: acw, Divisions: 80.5}, {Turn: cw, Divisions: 50}}},
			{"y", -0.61, []slide.Move{{Turn: cw, Divisions: 30.5}}},
			{"offset", 0.10, []slide.Move{{Turn: acw, Divisions: 5}}},
		},
	},
	{
		// The plug stands left and away: pressed there, free on the other sides. Away by 0.61 is
		// against y's take-up: 2.61/0.02 = 130.5 and 100 back. The swing of 12.08 has to shrink
		// by 0.08: 1.08/0.02 = 54 and 50 back.
		"boss, reach out", "boss", 6.60, 12, []float64{-0.69, 0.53, 0.53, -0.69},
		[]windWant{
			{"x", -0.61, []slide.Move{{Turn: acw, Divisions: 80.5}, {Turn: cw, Divisions: 50}}},
			{"y", 0.61, []slide.Move{{Turn: acw, Divisions: 130.5}, {Turn: cw, Divisions: 100}}},
			{"offset", -0.08, []slide.Move{{Turn: cw, Divisions: 54}, {Turn: acw, Divisions: 50}}},
		},
	},
	{
		// The plug stands right and away; the swing of 29.90 has to grow by 0.10.
		"boss, reach in", "boss", -11.40, 30, []float64{0.71, 0.71, -0.51, -0.51},
		[]windWant{
			{"x", 0.61, []slide.Move{{Turn: cw, Divisions: 30.5}}},
			{"y", 0.61, []slide.Move{{Turn: acw, Divisions: 130.5}, {Turn: cw, Divisions: 100}}},
			{"offset", 0.10, []slide.Move{{Turn: acw, Divisions: 5}}},
		},
	},
}

// The winds are those by the collar: by_collar stands in the machine file.
func TestFirstWinds(t *testing.T) {
	for _, c := range firstWinds {
		t.Run(c.name, func(t *testing.T) {
			told := play(t, mustJob(t, fmt.Sprintf(windJob, c.touch, c.reach, c.target)), mustMachine(t, windMachine), c.readings)
			if len(told) != len(c.winds) {
				t.Fatalf("%d winds told, want %d: %+v", len(told), len(c.winds), told)
			}
			for i, want := range c.winds {
				checkWind(t, told[i], want)
			}
		})
	}
}

// play sits at the machine: loads every slide, takes the readings in the order of the stations,
// does each wind that is told, and returns the winds.
func play(t *testing.T, j setup.Job, m setup.Machine, readings []float64) []slide.Wind {
	t.Helper()
	var told []slide.Wind
	live := session.NewLive(session.State{}, &session.Memory{})
	do := func(c session.Command) {
		t.Helper()
		steps, err := live.Do(c, time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC))
		if err != nil {
			t.Fatalf("%T: %v", c, err)
		}
		for _, s := range steps {
			if e, ok := s.Event.(session.Told); ok {
				told = append(told, e.Wind)
			}
		}
	}
	do(session.Open{Opened: session.Opened{Job: j, Machine: m}})
	for range j.Needs() {
		do(session.Confirm{})
	}
	for _, r := range readings {
		do(session.Take{Reading: r})
	}
	for live.State().Told != nil {
		do(session.Confirm{})
	}
	return told
}

func checkWind(t *testing.T, got slide.Wind, want windWant) {
	t.Helper()
	const mm, div = 1e-10, 1e-8 // roundings of the fit, and of the fit over 0.02
	if got.Slide != want.slide || math.Abs(got.Travel-want.travel) > mm || len(got.Moves) != len(want.moves) {
		t.Errorf("told %s by %+.6f in %d moves, want %s by %+.2f in %d", got.Slide, got.Travel, len(got.Moves), want.slide, want.travel,
			len(want.moves))
		return
	}
	for i, m := range got.Moves {
		w := want.moves[i]
		if m.Turn != w.Turn || m.Turns != w.Turns || math.Abs(m.Divisions-w.Divisions) > div {
			t.Errorf("%s, move %d: %v %d turns %.6f div, want %v %d turns %v div", got.Slide, i+1, m.Turn, m.Turns, m.Divisions,
				w.Turn, w.Turns, w.Divisions)
		}
	}
}
