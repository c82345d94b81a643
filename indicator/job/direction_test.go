package job_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
)

const handwheel = "travel_per_turn = 2\ndivisions = 100\nclockwise = \"increase\"\ntake_up = \"increase\"\nbacklash = 0.1\n"

// A job of a turned table says where the indicator stands.
func TestTurnedJob(t *testing.T) {
	j, err := job.ParseJob("job.toml", []byte(strings.Replace(edit(t, shownJob, `kind = "carried"`, `kind = "turned" `),
		"indicator_bearing = 0", "indicator_bearing = 120", 1)))
	if err != nil || j.Setup.Kind != indicator.Turned || math.Abs(j.Setup.IndicatorBearing.Degrees()-120) > 1e-12 {
		t.Fatalf("%+v (%v), want a turned table and the indicator at 120°", j.Setup, err)
	}
	// Standing at 120°, the table turned counter-clockwise by 50°: met at 70° of the table, and back.
	if b := j.Setup.Surface(50 * geom.Degree); math.Abs(b.Degrees()-70) > 1e-9 {
		t.Errorf("met at %v°, want 70°", b.Degrees())
	}
	if s := j.Setup.Stands(150 * geom.Degree); math.Abs(s.Degrees()-330) > 1e-9 {
		t.Errorf("the table stands at %v°, want 330°", s.Degrees())
	}
}

// A bearing is kept as what it differs by from the slide's name, either way round, and a range of table
// angles goes counter-clockwise from its first angle to its second.
func TestDirections(t *testing.T) {
	deg := func(d float64) float64 { return float64(geom.FromDegrees(d)) }
	for _, c := range []struct {
		lines        string // of table_y
		askew, limit float64
		in, out      []float64 // table angles at which its handwheel can and cannot be reached
		at           float64   // where to wind it by its collar, NaN for anywhere
	}{
		{"", 0, 0.5, []float64{0, 90, 180, 359}, nil, math.NaN()},
		{"bearing = 90.4\nbearing_error = 0.1\n", 0.4, 0.1, nil, nil, math.NaN()},
		{"bearing = -90\n", -180, 0.5, nil, nil, math.NaN()},
		{"bearing = 300\nbearing_error = 0\n", -150, 0, nil, nil, math.NaN()},
		{"reached = [330, 60]\n", 0, 0.5, []float64{330, 0, 60, 59.9, 420}, []float64{61, 180, 329}, 15},
		{"reached = [-30, 60]\n", 0, 0.5, []float64{330, 0, 60}, []float64{61, 180, 329}, 15},
		{"reached = [91, 100]\n", 0, 0.5, []float64{91, 95.5, 100}, []float64{90.9, 100.1}, 95.5},
		{"reached = [0, 360]\n", 0, 0.5, []float64{0, 180}, nil, math.NaN()},
	} {
		m, err := job.ParseMachine("mill.toml", []byte("name = \"m\"\n[slide.table_x]\n"+handwheel+"[slide.table_y]\n"+handwheel+c.lines))
		if err != nil {
			t.Errorf("%q: %v", c.lines, err)
			continue
		}
		s, _ := m.Slide("table_y")
		if math.Abs(math.Remainder(s.Askew-deg(c.askew), 2*math.Pi)) > 1e-12 || math.Abs(s.AskewLimit-deg(c.limit)) > 1e-12 {
			t.Errorf("%q: askew by %v ± %v, want %v° ± %v°", c.lines, s.Askew, s.AskewLimit, c.askew, c.limit)
		}
		for i, list := range [][]float64{c.in, c.out} {
			for _, a := range list {
				if got := s.Reached(geom.FromDegrees(a)); got != (i == 0) {
					t.Errorf("%q: reached at %v°: %v", c.lines, a, got)
				}
			}
		}
		at, some := s.ReachedAt(15 * geom.Degree)
		if some == math.IsNaN(c.at) || (some && math.Abs(at.Degrees()-c.at) > 1e-9) {
			t.Errorf("%q: wound at %v° (%v), want %v°", c.lines, at.Degrees(), some, c.at)
		}
	}
}

// What is wrong with a direction, a reach or a vernier.
func TestBadDirections(t *testing.T) {
	file := func(table, x, y, offset string) string {
		return "name = \"m\"\n[table]\n" + table + "\n[slide.table_x]\n" + x + "\n" + handwheel + "[slide.table_y]\n" + y + "\n" +
			handwheel + "[slide.offset]\n" + offset + "\n" + handwheel
	}
	for _, c := range []struct{ table, x, y, offset, want, hint string }{
		{y: "bearing = 25", want: `mill.toml:12: slide.table_y.bearing: 25 degrees from the line of slide "table_x", need 30 or more`,
			hint: "each bearing says along what its slide's coordinate grows"},
		{y: "bearing = 361", want: "mill.toml:12: slide.table_y.bearing: 361, must be from -360 to 360 degrees"},
		{x: "bearing_error = 31", want: "mill.toml:5: slide.table_x.bearing_error: 31, must be from 0 to 30 degrees"},
		{x: "reached = [10]", want: "mill.toml:5: slide.table_x.reached: [10], must be two different angles from -360 to 360 degrees",
			hint: "how far the table may stand turned anticlockwise seen from above, from the first angle on to the second, " +
				"like [330, 60]"},
		{offset: "bearing = 0",
			want: `mill.toml:19: slide.offset.bearing: given for the slide "offset", which moves along the radius; need it at cross slides only`},
		{offset: "reached = [0, 90]",
			want: `mill.toml:19: slide.offset.reached: given for the slide "offset", which does not turn with the table; need it at table_x and table_y only`},
		{table: "vernier = 0.1", want: "mill.toml:3: table.vernier: 0.1 degrees under a graduation of 0 degrees, must be below it",
			hint: "graduation is what one mark of the ring is worth, vernier what one line of its vernier divides it to"},
	} {
		_, err := job.ParseMachine("mill.toml", []byte(file(c.table, c.x, c.y, c.offset)))
		check(t, fmt.Sprintf("%+v", c), err, c.want, c.hint)
	}
}

// A ring of 1° with a vernier of 5′ is set to the nearest of its lines, and a figure is never 60′ or 360°.
func TestVernier(t *testing.T) {
	ring := setup.Ring{Graduation: float64(geom.Degree), Vernier: float64(geom.FromDegrees(0.08333333333))}
	for _, c := range []struct{ shows, degrees, minutes float64 }{
		{51.4285714, 51, 25}, {120, 120, 0}, {0.05, 0, 5}, {359.99, 0, 0}, {45.96, 46, 0}, {45.95, 45, 55}, {0.04, 0, 0},
	} {
		if m, ok := ring.Mark(c.shows); !ok || m != (setup.Mark{Degrees: c.degrees, Minutes: c.minutes}) {
			t.Errorf("%v° is set as %+v (%v), want %v° %v′", c.shows, m, ok, c.degrees, c.minutes)
		}
	}
	if _, ok := (setup.Ring{Graduation: 1}).Mark(30); ok {
		t.Error("a ring without a vernier is set by one")
	}
}
