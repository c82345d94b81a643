package job_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
)

// foundJob answers all that a job asks for, but for what the tests of found figures are about.
func foundJob(u geom.Unit, more map[string]string) map[string]string {
	say := map[string]string{"unit": u.String(), "target.swing_radius": "42", "target.tolerance": "0.02", "dial.graduation": "0.01",
		"dial.range": "1.6", "setup.reference_radius": "30", "setup.reach": "-12"}
	for k, v := range more {
		say[k] = v
	}
	return say
}

// until answers questions by their keys until one is asked.
func until(t interface{ Fatalf(string, ...any) }, q job.Asking, key string, say map[string]string) job.Asking {
	for range 200 {
		now, more := q.Next()
		if !more || now.Key == key {
			return q
		}
		next, err := q.Answer(say[now.Key])
		if err != nil {
			t.Fatalf("%s answered with %q is refused: %v", now.Key, say[now.Key], err)
		}
		q = next
	}
	return q
}

// A repeatability that is found is the standard deviation of the five readings (n - 1; JCGM 100:2008, 4.2.2, from memory), in either
// unit, with the four degrees of freedom that it is worth, never below what reading to a fifth of a mark makes by itself; and the
// readings are handed out as they were read. Figures by hand.
func TestFoundRepeatability(t *testing.T) {
	for _, c := range []struct {
		unit     geom.Unit
		readings string
		want     string // in the unit
		says     string
	}{
		// Mean 0.012; off by 0, 2, -2, 1, -1 thousandths: the root of 10/4 is 1.58.
		{geom.Millimetre, "0.012 0.014 0.010 0.013 0.011", "0.0016", "0.0016 mm (standard deviation of 5 readings)"},
		{geom.Millimetre, "-0,488 -0,486 -0.490 -0.487 -0.489", "0.0016", "-0.488, -0.486, -0.49"},
		// All alike, to a fifth of 0.01: 0.002/3.4641 is 0.00058.
		{geom.Millimetre, "0.1 0.1 0.1 0.1 0.1", "0.00058", "makes 0.00058 mm by itself, and that is taken"},
		// In inches the mark is 0.01 in here: a fifth over 3.4641 is 0.00058 in.
		{geom.Inch, "0.1 0.1 0.1 0.1 0.1", "0.00058", "0.00058 in by itself"},
		{geom.Inch, "0.112 0.114 0.110 0.113 0.111", "0.0016", "0.0016 in (standard"},
	} {
		say := foundJob(c.unit, map[string]string{"dial.repeatability": "find it here"})
		all := strings.Fields(c.readings)
		for i, v := range all {
			say[fmt.Sprintf("dial.reading_%d", i+1)] = v
		}
		q := until(t, job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y")}), "dial.repeatability_found", say)
		if now, _ := q.Next(); !strings.Contains(now.Text, c.says) || now.Default != "take it" {
			t.Errorf("%s in %v: %q (%s), want it to say %q", c.readings, c.unit, now.Text, now.Default, c.says)
		}
		done, keys := askAll(t, q, say)
		j, err := job.ParseJob("j.toml", done.Text())
		if err != nil {
			t.Fatal(err)
		}
		want, _ := strconv.ParseFloat(c.want, 64)
		if math.Abs(j.Dial.Repeatability-c.unit.MM(want)) > 1e-9 || j.Dial.Repeats != 5 || strings.Contains(string(done.Text()), "reading_1") {
			t.Errorf("%s in %v: repeatability %v mm of %d readings, want %s %v of 5\n%s", c.readings, c.unit, j.Dial.Repeatability,
				j.Dial.Repeats, c.want, c.unit, done.Text())
		}
		found := done.Found()
		if len(found) != 1 || found[0].Key != "dial.repeatability" || found[0].Check() != nil || len(found[0].Rounds[0].Readings) != 5 {
			t.Fatalf("found %+v (asked %q), want the repeatability with its readings", found, keys)
		}
		for i, v := range all {
			x, _ := strconv.ParseFloat(strings.Replace(v, ",", ".", 1), 64)
			if got := found[0].Rounds[0].Readings[i]; math.Abs(got-c.unit.MM(x)) > 1e-12 {
				t.Errorf("reading %d is kept as %v mm, want %s %v", i+1, got, v, c.unit)
			}
		}
	}
}

// A reading that stands far off the others is asked once more, with how far, and what is read then counts in its place; nothing of
// five that scatter as they should is. Back takes the last reading back, and the first of them; read again begins with the first.
func TestRepeatReadingFarOff(t *testing.T) {
	say := foundJob(geom.Millimetre, map[string]string{"dial.repeatability": "find", "dial.reading_1": "0.102", "dial.reading_2": "0.1",
		"dial.reading_3": "1.1", "dial.reading_4": "0.098", "dial.reading_5": "0.101"})
	start := job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y")})
	q := until(t, start, "dial.reading_3", say)
	if _, err := q.Answer("1.1"); err == nil || !strings.Contains(err.Error(), "1.1, need what the dial can show: -0.8 to 0.8 mm") {
		t.Errorf("beyond the dial's range: %v", err)
	}
	say["dial.reading_3"] = "0.201"
	q = until(t, q, "dial.reading_3_again", say)
	now, _ := q.Next()
	if now.Key != "dial.reading_3_again" || !strings.Contains(now.Text, "reading 3, 0.201, stands 0.1005 mm off the others") {
		t.Fatalf("asked is %s: %s", now.Key, now.Text)
	}
	back, err := q.Back()
	if now, _ := back.Next(); err != nil || now.Key != "dial.reading_5" {
		t.Fatalf("back from there is %s, want the last reading", now.Key)
	}
	q, err = q.Answer("0.099")
	if err != nil {
		t.Fatal(err)
	}
	now, _ = q.Next()
	// 0.102 0.1 0.099 0.098 0.101: mean 0.1, squares 4+0+1+4+1 = 10, over 4, the root 1.58.
	if now.Key != "dial.repeatability_found" ||
		!strings.Contains(now.Text, "0.102, 0.1, 0.099, 0.098, 0.101 mm: one reading repeats to 0.0016 mm") {
		t.Fatalf("asked is %s: %s", now.Key, now.Text)
	}
	again, err := q.Answer("2")
	if now, _ := again.Next(); err != nil || now.Key != "dial.reading_1" || strings.Contains(string(again.Text()), "repeatability") {
		t.Fatalf("read again asks for %s (%v)\n%s", now.Key, err, again.Text())
	}
	q, err = q.Answer("take it")
	if err != nil || len(q.Found()) != 1 {
		t.Fatalf("taken: %v, found %v", err, q.Found())
	}
	if q, err = q.Back(); err != nil || len(q.Found()) != 0 || strings.Contains(string(q.Text()), "repeatability") {
		t.Errorf("taken back: %v, found %v\n%s", err, q.Found(), q.Text())
	}
	if _, err := q.Answer("3"); err == nil {
		t.Error("3 of two answers is taken")
	}
}

// spun is what a dial shows, its tip pointing along θ from an axis with the round's middle at c from it: the wall is met at the
// distance d = c·u + √(ρ² - (c·v)²), and the tip stands at t as the dial shows 0. In a ring a nearer wall presses it, on a plug a
// farther one. Plane geometry, no formula of the program's.
func spun(ring bool, rho, t float64, c geom.Point, theta float64) float64 {
	u, v := geom.Point{X: math.Cos(theta), Y: math.Sin(theta)}, geom.Point{X: -math.Sin(theta), Y: math.Cos(theta)}
	along, across := c.X*u.X+c.Y*u.Y, c.X*v.X+c.Y*v.Y
	d := along + math.Sqrt(rho*rho-across*across)
	if ring {
		return t - d
	}
	return d - t
}

// drawnRound answers what is asked of a ring or a plug that the tip runs on, t from the axis at dial zero, in unit u.
func drawnRound(t *rapid.T, say map[string]string, name string, u geom.Unit, dist float64, falls bool) (radius float64, n int) {
	radius = math.Round((dist+rapid.Float64Range(-0.3, 0.3).Draw(t, name+" off"))*1e3) / 1e3
	n = rapid.IntRange(4, 8).Draw(t, name+" places")
	c := geom.Point{X: rapid.Float64Range(-0.2, 0.2).Draw(t, name+" x"), Y: rapid.Float64Range(-0.2, 0.2).Draw(t, name+" y")}
	first := rapid.Float64Range(0, 6).Draw(t, name+" from")
	say["setup.reach_"+name], say["setup.reach_"+name+"_places"] = "d "+strconv.FormatFloat(2*radius, 'f', -1, 64), strconv.Itoa(n)
	for i := range n {
		m := spun(name == "ring", radius, dist, c, first+2*math.Pi*float64(i)/float64(n))
		if falls {
			m = -m
		}
		say[fmt.Sprintf("setup.reach_%s_%d", name, i+1)] = strconv.FormatFloat(math.Round(m*1e5)/1e5, 'f', -1, 64)
	}
	return radius, n
}

// However the tip is turned, and whatever it touches, a reach that is found is the true one, to the rounding of the readings, with
// its sign; the round that is asked for is the one that the same side of the tip's ball touches; and what is found stands in the job,
// with the doubt, and in what is handed out. In either unit, and on a dial that falls as it is pressed.
func TestFoundReach(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]geom.Unit{geom.Millimetre, geom.Inch}).Draw(t, "unit")
		boss, out := rapid.Bool().Draw(t, "boss"), rapid.Bool().Draw(t, "out")
		falls, pair := rapid.Bool().Draw(t, "falls"), rapid.Bool().Draw(t, "pair")
		reach := math.Round(rapid.Float64Range(8, 14).Draw(t, "reach")*1e4) / 1e4
		if !out {
			reach = -reach
		}
		const swing = 42.0
		say := foundJob(u, map[string]string{"setup.reach": "find it here", "dial.repeatability": "0.002",
			"setup.reference_radius": strconv.FormatFloat(swing+reach, 'f', -1, 64),
			"setup.reach_way":        map[bool]string{true: "out", false: "in"}[out]})
		if falls {
			say["dial.pressed"] = "falls"
		}
		if say["setup.touch"] = "ring"; boss {
			say["setup.touch"] = "plug"
		}
		// In a bore the far side of the ball, seen from the spindle, touches where the tip is turned out; round a boss
		// where it is turned in.
		ring := boss != out
		rounds := []string{map[bool]string{true: "ring", false: "plug"}[ring]}
		if say["setup.reach_by"] = "1"; pair {
			say["setup.reach_by"] = "2"
			// The head in the ring first: the tip as the job has it where it touches a bore, turned half round where a boss.
			t1 := reach
			if boss {
				t1 = -reach
			}
			rounds = []string{"ring", "plug"}
			drawnRound(t, say, "ring", u, swing+t1, falls)
			drawnRound(t, say, "plug", u, swing-t1, falls)
		} else {
			drawnRound(t, say, rounds[0], u, math.Abs(reach), falls)
		}
		q := until(t, job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y")}), "setup.reach_by", say)
		if now, _ := q.Next(); !strings.Contains(now.Choices[0], map[bool]string{true: "in a ring", false: "round a plug"}[ring]) {
			t.Fatalf("boss %v, out %v: %q is offered", boss, out, now.Choices)
		}
		done, keys := askAll(t, q, say)
		j, err := job.ParseJob("j.toml", done.Text())
		if err != nil {
			t.Fatalf("%v\n%s", err, done.Text())
		}
		if math.Abs(j.Setup.Reach-u.MM(reach)) > u.MM(1.5e-4) { // readings to 1e-5, the reach to 1e-4
			t.Fatalf("reach %v mm, want %v %v (%v)\n%s", j.Setup.Reach, reach, u, keys, done.Text())
		}
		if !j.Stated.Has(indicator.OfReach) || !(j.Setup.ReachLimit > 0) || j.Setup.ReachLimit > u.MM(0.02) {
			t.Fatalf("the reach's limit is %v mm, stated %v", j.Setup.ReachLimit, j.Stated)
		}
		found := done.Found()
		if len(found) != 1 || found[0].Key != setup.FoundReach || found[0].Check() != nil || len(found[0].Rounds) != len(rounds) ||
			math.Abs(found[0].Value-j.Setup.Reach) > 1e-9 {
			t.Fatalf("found %+v, want the reach on %v", found, rounds)
		}
		for i, r := range found[0].Rounds {
			if r.Of != rounds[i] || strconv.Itoa(len(r.Readings)) != say["setup.reach_"+r.Of+"_places"] {
				t.Fatalf("found on %+v, want %s", r, rounds[i])
			}
		}
	})
}

// A reach that would put the needle off the dial at the target is refused as it is taken, as a typed one is, and it can be read again;
// a ring whose readings say that the tip stands beyond the axis is told; without a doubt, how it is known is asked.
func TestFoundReachRefused(t *testing.T) {
	machine := job.Facts{Machine: mill("offset", "x", "y")}
	say := foundJob(geom.Millimetre, map[string]string{"setup.touch": "ring", "setup.reach": "find", "setup.reach_way": "in",
		"setup.reach_plug": "11", "setup.reach_plug_places": "3", "setup.reach_plug_1": "0.1", "setup.reach_plug_2": "0.1",
		"setup.reach_plug_3": "0.1"})
	q := until(t, job.JobQuestions(machine), "setup.reach_found", say)
	now, _ := q.Next() // |t| = 11 - 0.1, read to a fifth, and no more of them than are asked for: no doubt
	if !strings.Contains(now.Text, "reach -10.9 mm, its doubt not known") {
		t.Fatalf("%s: %s", now.Key, now.Text)
	}
	_, err := q.Answer("take it")
	if err == nil || !strings.Contains(err.Error(), "with -10.9 mm the dial would have to show 1.1 mm at the target, need -0.8 to 0.8 mm") {
		t.Errorf("off the dial at the target: %v", err)
	}
	q, err = q.Answer("read again")
	if now, _ := q.Next(); err != nil || now.Key != "setup.reach_plug_1" {
		t.Fatalf("read again asks for %s (%v)", now.Key, err)
	}
	say["setup.reach_plug"] = "12"
	for range 3 {
		if q, err = q.Back(); err != nil {
			t.Fatal(err)
		}
	}
	q = until(t, q, "setup.reach_error", say)
	if now, more := q.Next(); !more || now.Key != "setup.reach_error" || !strings.Contains(string(q.Text()), "reach = -11.9 ") {
		t.Fatalf("asked is %s, want how it is known\n%s", now.Key, q.Text())
	}
	say["setup.reach_plug"] = "0.5"
	for n := range 3 {
		say[fmt.Sprintf("setup.reach_plug_%d", n+1)] = "0.7"
	}
	q = until(t, job.JobQuestions(machine), "setup.reach_found", say)
	if now, _ := q.Next(); !strings.Contains(now.Text, "nothing follows from these readings: tip to the spindle's axis -0.2 mm, need above 0") {
		t.Errorf("beyond the axis: %s", now.Text)
	}
	if _, err := q.Answer(""); err == nil {
		t.Error("beyond the axis: taken")
	}
}

// A reach that is found with a repeatability found from five readings is as doubtful as those five let it be: four degrees of freedom.
// By hand, in mm: 0.0016 of one reading and 0.002/√12 of reading to a fifth of 0.01 are 0.0017; three even places know their mean to
// 1/√3 of it, t(0.975, 4) = 2.776 of the printed tables widens it, and √3/1.96 makes a limit: 0.0024, rounded up to 0.0025. Of nine
// readings, whose t of eight is 2.306, it would be 0.0021.
func TestFoundReachGoesByTheFoundReadings(t *testing.T) {
	say := foundJob(geom.Millimetre, map[string]string{"dial.repeatability": "find it here", "dial.reading_1": "0.012",
		"dial.reading_2": "0.014", "dial.reading_3": "0.010", "dial.reading_4": "0.013", "dial.reading_5": "0.011",
		"setup.touch": "ring", "setup.reach": "find it here", "setup.reach_way": "in", "setup.reach_plug": "12",
		"setup.reach_plug_error": "don't know", "setup.reach_plug_places": "3", "setup.reach_plug_1": "0", "setup.reach_plug_2": "0",
		"setup.reach_plug_3": "0"})
	done, keys := askAll(t, job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y")}), say)
	j, err := job.ParseJob("j.toml", done.Text())
	if err != nil {
		t.Fatal(err)
	}
	if j.Setup.Reach != -12 || math.Abs(j.Setup.ReachLimit-0.0025) > 1e-12 || j.Dial.Repeats != 5 {
		t.Errorf("reach %v ±%v mm by %d readings, want -12 ±0.0025 by 5 (asked %q)", j.Setup.Reach, j.Setup.ReachLimit, j.Dial.Repeats, keys)
	}
}
