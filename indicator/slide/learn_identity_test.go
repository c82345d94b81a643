package slide_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// told is what a lesson says of the values that follow units and signs: lengths, count-like
// values, and pure numbers.
type told struct {
	gain, origin, start, travel, collar, expect indicator.Value
	miss                                        slide.Bounds
	backlash                                    indicator.Value
	lock                                        slide.LockShift
}

func tell(b slide.Lesson, scale, way float64) told {
	l := b.Posterior()
	start, _ := l.StartFor(37.3 * scale)
	return told{
		gain: l.Gain(), origin: l.Origin(), start: start,
		travel: l.Travel(3.7 * scale * way), collar: l.CollarFor(3.7 * scale * way),
		expect: l.Expect(slide.RadiusSeen{Count: start.V, U: 0.002 * scale, Common: 0.003 * scale, Setup: 1, Origin: b.Origin}),
		miss:   l.Miss(), backlash: b.Backlash(), lock: b.LockShift(),
	}
}

// agree compares every number of two tellings to a millionth of a millionth of a metre: rounding in
// counts of hundreds of millimetres, worn down by the fit's last step.
func agree(t *testing.T, what string, got, want told) {
	t.Helper()
	const tight = 1e-9
	var walk func(path string, a, b reflect.Value)
	walk = func(path string, a, b reflect.Value) {
		if a.Kind() == reflect.Struct {
			for i := range a.NumField() {
				walk(path+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i))
			}
			return
		}
		if !(math.Abs(a.Float()-b.Float()) <= tight) {
			t.Errorf("%s: %s %.12f, want %.12f", what, path, a.Float(), b.Float())
		}
	}
	walk("", reflect.ValueOf(got), reflect.ValueOf(want))
}

// scaled turns a telling in other units, or of a mirrored slide, back.
func (x told) scaled(by, way float64) told {
	f := func(v indicator.Value, way float64) indicator.Value {
		return indicator.Value{V: v.V * by * way, U: v.U * by}
	}
	x.origin, x.start, x.travel, x.collar = f(x.origin, way), f(x.start, way), f(x.travel, way), f(x.collar, way)
	x.expect, x.backlash = f(x.expect, 1), f(x.backlash, 1)
	x.lock = slide.LockShift{Mean: f(x.lock.Mean, way), Next: f(x.lock.Next, way), Spread: x.lock.Spread * by}
	x.miss = slide.Bounds{V: x.miss.V * by, Low: x.miss.Low * by, High: x.miss.High * by}
	return x
}

// whole is a lesson with every kind of observation.
func whole(rng *rand.Rand) slide.Lesson {
	s := sampleLesson(rng)
	s.reversal()
	s.reversal()
	for range 3 {
		s.b, _ = s.b.SeenLock(slide.LockSeen{Moved: 0.003 + 0.002*rng.NormFloat64(), U: 0.0005})
	}
	return s.b
}

// changed applies a change to every length of a lesson: counts also change sign with way.
func changed(b slide.Lesson, by, way float64) slide.Lesson {
	a := b.Assumed
	for _, p := range []*float64{&a.TravelPerTurn, &a.MissLimit, &a.Hand, &a.Screw, &a.Backlash, &a.BacklashU, &a.LockSpread} {
		*p *= by
	}
	a.Grows = slide.Way(float64(a.Grows) * way)
	out := slide.Lesson{Assumed: a, Origin: b.Origin, PlayOpen: b.PlayOpen}
	for _, o := range b.Radii {
		o.Count, o.R, o.U, o.Common = o.Count*by*way, o.R*by, o.U*by, o.Common*by
		out.Radii = append(out.Radii, o)
	}
	for _, o := range b.Travels {
		out.Travels = append(out.Travels, slide.TravelSeen{Turned: o.Turned * by * way, Moved: o.Moved * by * way, U: o.U * by})
	}
	for _, o := range b.Reversals {
		out.Reversals = append(out.Reversals, slide.ReversalSeen{Turned: o.Turned * by, U: o.U * by})
	}
	for _, o := range b.Locks {
		out.Locks = append(out.Locks, slide.LockSeen{Moved: o.Moved * by * way, U: o.U * by})
	}
	return out
}

func TestLearntIdentities(t *testing.T) {
	rng := rand.New(rand.NewPCG(77, 1))
	for range 20 {
		b := whole(rng)
		plain := tell(b, 1, 1)
		if !plain.start.Known() || !plain.expect.Known() {
			t.Fatalf("nothing told: %+v", plain)
		}

		const inch = 1 / 25.4
		agree(t, "in inches", tell(changed(b, inch, 1), inch, 1).scaled(25.4, 1), plain)
		agree(t, "count the other way", tell(changed(b, 1, -1), 1, -1).scaled(1, -1), plain)

		mixed := b
		mixed.Radii, mixed.Travels, mixed.Reversals, mixed.Locks = nil, nil, nil, nil
		for _, i := range rng.Perm(len(b.Radii)) {
			mixed.Radii = append(mixed.Radii, b.Radii[i])
		}
		for i := len(b.Reversals) - 1; i >= 0; i-- {
			mixed.Reversals = append(mixed.Reversals, b.Reversals[i])
		}
		for i := len(b.Locks) - 1; i >= 0; i-- {
			mixed.Locks = append(mixed.Locks, b.Locks[i])
		}
		mixed.Travels = b.Travels
		agree(t, "in another order", tell(mixed, 1, 1), plain)

		// A ring that is set on by whole turns for good counts from elsewhere, no more.
		const on = 2 * 37
		moved := changed(b, 1, 1)
		for i := range moved.Radii {
			moved.Radii[i].Count += on
		}
		back := tell(moved, 1, 1)
		back.origin.V -= on
		back.start.V -= on
		agree(t, "counted from elsewhere", back, plain)
	}
}

// Lesson methods leave the lesson that they are called on as it is, however lists grow.
func TestLessonIsAValue(t *testing.T) {
	rng := rand.New(rand.NewPCG(78, 1))
	b := whole(rng)
	b.Radii = append(make([]slide.RadiusSeen, 0, 100), b.Radii...) // room to grow in place
	before, err := json.Marshal(b)
	if err != nil {
		t.Fatal(err)
	}
	x, _ := b.SeenRadius(slide.RadiusSeen{Count: 1, R: 30, U: 0.002, Setup: 9})
	y, _ := b.SeenRadius(slide.RadiusSeen{Count: 2, R: 31, U: 0.002, Setup: 9})
	if last := x.Radii[len(x.Radii)-1]; last.Count != 1 {
		t.Errorf("a second update changed the first: %+v", last)
	}
	if last := y.Radii[len(y.Radii)-1]; last.Count != 2 {
		t.Errorf("the second update holds %+v", last)
	}
	for range 200 {
		x, _ = x.SeenTravel(slide.TravelSeen{Turned: 2, Moved: 2, U: 0.002})
	}
	if len(x.Travels) != 64 {
		t.Errorf("%d travels kept of 201, want 64", len(x.Travels))
	}
	if after, _ := json.Marshal(b); string(after) != string(before) {
		t.Errorf("the lesson has changed from %s to %s", before, after)
	}
}

// A lesson goes through a journal unchanged, and a strange one is refused.
func TestLessonInJSON(t *testing.T) {
	b := whole(rand.New(rand.NewPCG(79, 1)))
	text, err := json.Marshal(b)
	if err != nil {
		t.Fatal(err)
	}
	var back slide.Lesson
	if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(back, b) {
		t.Errorf("%s comes back as %+v, %v", text, back, err)
	}
	if tell(back, 1, 1) != tell(b, 1, 1) {
		t.Error("a lesson read back tells other values, want the same bits")
	}
	for _, c := range []struct{ from, to, want string }{
		{`"origin"`, `"orign"`, "unknown field"},
		{`"gain":1,`, `"gain":0,`, "gain 0, need 0.01 or more"},
		{`"grows":"increase"`, `"grows":"up"`, "need increase or decrease"},
		{`"gain_limit":0.003`, `"gain_limit":-0.003`, "limit of the gain"},
		{`"setup":`, `"setup":0.5,"x":`, "cannot unmarshal"},
		{`"r":`, `"r":-1,"u":`, "swing radius -1"},
	} {
		bad := strings.Replace(string(text), c.from, c.to, 1)
		kept := b
		if err := json.Unmarshal([]byte(bad), &kept); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s for %s: %v, want %q", c.to, c.from, err, c.want)
		}
		if !reflect.DeepEqual(kept, b) {
			t.Errorf("%s for %s: the refused text has changed the lesson", c.to, c.from)
		}
	}
}
