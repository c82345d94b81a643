package session_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// between is the obstacle from one bearing to another, degrees.
func between(from, to float64) setup.Obstacle {
	return setup.Obstacle{From: geom.FromDegrees(from), To: geom.FromDegrees(to)}
}

// hidden reports whether a bearing lies inside an obstacle, by the direction's own components: less
// than half its width away from its middle.
func hidden(obstacles []setup.Obstacle, b geom.Bearing) bool {
	for _, o := range obstacles {
		middle, half := float64(o.From+o.To)/2, float64(o.To-o.From)/2
		sin, cos := math.Sincos(float64(b) - middle)
		if math.Abs(math.Atan2(sin, cos)) < half-1e-7 {
			return true
		}
	}
	return false
}

// No station, planned or further, is asked for inside an obstacle, and a further one may stand at
// an edge, off the marks of 15°.
func TestFurtherStationsAvoidObstacles(t *testing.T) {
	full := setup.Sweep{Stations: 6, To: 2 * math.Pi}
	for _, c := range []struct {
		name      string
		obstacles []setup.Obstacle
		radius    bool
		edge      float64 // degrees: a further station stands here; below 0 for none
	}{
		{"radius", []setup.Obstacle{between(80, 130), between(200, 215)}, true, -1},
		{"centre", []setup.Obstacle{between(80, 130), between(200, 215)}, false, -1},
		{"across zero", []setup.Obstacle{between(338, 380)}, true, -1},
		// Half the circle is left. The radius is told from the centre as by a sagitta: the ends help
		// it most, and neither is a mark.
		{"half a circle", []setup.Obstacle{between(172, 352)}, true, 352},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := with(t, func(j *setup.Job) { j.Sweep, j.Dial.AngleError = full, 0; j.Sweep.Obstacles = c.obstacles })
			p := open(t, o, straddling(&o.Job, c.radius)).until(session.ForReading)
			further, edge := 0, c.edge < 0
			for q := p.prompt(); q.Waits == session.ForReading; q = p.prompt() {
				if hidden(c.obstacles, q.Reading.Bearing) {
					t.Fatalf("station %d at %v°, obstacles %v", q.Reading.Station, q.Reading.Bearing.Degrees(), c.obstacles)
				}
				if q.Reading.Station > full.Stations {
					further++
					edge = edge || math.Abs(q.Reading.Bearing.Degrees360()-c.edge) < 1e-9
				}
				p.answer(1)
			}
			if further == 0 || !edge {
				t.Errorf("%d further stations, one at %v°: %v; want both", further, c.edge, edge)
			}
		})
	}
}

// Where there is nothing to weigh yet, further stations go between those planned, and not into an
// obstacle either.
func TestSkippedStationsAvoidObstacles(t *testing.T) {
	obstacles := []setup.Obstacle{between(80, 130), between(200, 215)}
	p := open(t, with(t, func(j *setup.Job) { j.Sweep.Obstacles = obstacles }), near42(0.1, 0, 0)).until(session.ForReading)
	n := 0
	for q := p.prompt(); q.Waits == session.ForReading; q = p.prompt() {
		if hidden(obstacles, q.Reading.Bearing) {
			t.Fatalf("station %d at %v°, obstacles %v", q.Reading.Station, q.Reading.Bearing.Degrees(), obstacles)
		}
		n++
		p.do(session.Skip{})
	}
	if n != 12 {
		t.Errorf("%d stations asked for, want twice the six planned", n)
	}
}

// A journal without obstacles has no word of them, so that it is written as it always was; one with
// them gives them back.
func TestObstaclesOnRecord(t *testing.T) {
	line, err := session.Encode(1, begin, benchOpened(t))
	if err != nil || strings.Contains(string(line), "obstacles") {
		t.Errorf("without obstacles: %s, %v", line, err)
	}
	want := []setup.Obstacle{between(80, 130), between(350, 380)}
	if line, err = session.Encode(1, begin, with(t, func(j *setup.Job) { j.Sweep.Obstacles = want })); err != nil || !json.Valid(line) {
		t.Fatalf("%s, %v", line, err)
	}
	r, err := session.Decode(1, line)
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Event.(session.Opened).Job.Sweep.Obstacles; len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("read back as %v, want %v", got, want)
	}
}

// A setting of which obstacles leave nothing is not opened.
func TestOpenNeedsRoom(t *testing.T) {
	o := with(t, func(j *setup.Job) { j.Sweep.Obstacles = []setup.Obstacle{between(0, 200), between(190, 370)} })
	if _, err := session.Decide(session.State{}, session.Open{Opened: o}); err == nil || !strings.Contains(err.Error(), "leave nothing") {
		t.Errorf("error %v, want that nothing is left", err)
	}
}
