package slide_test

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"example.org/trammel/indicator/slide"
)

// numbers reads floats from bytes, any bits; zeros when they run out.
type numbers []byte

func (n *numbers) next() float64 {
	if len(*n) < 8 {
		*n = nil
		return 0
	}
	x := math.Float64frombits(binary.LittleEndian.Uint64(*n))
	*n = (*n)[8:]
	return x
}

func bits(all ...float64) (out []byte) {
	for _, x := range all {
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(x))
	}
	return out
}

// finiteOrUnknown fails on an infinity, and on a value whose number is known and whose doubt is not.
func finiteOrUnknown(t *testing.T, v reflect.Value, b slide.Lesson) {
	t.Helper()
	if v.Kind() == reflect.Struct {
		for i := range v.NumField() {
			finiteOrUnknown(t, v.Field(i), b)
		}
		if v.Type().NumField() > 1 && v.Field(0).Kind() == reflect.Float64 &&
			math.IsNaN(v.Field(0).Float()) != math.IsNaN(v.Field(1).Float()) {
			t.Errorf("%+v of %+v: one is known, one is not", v.Interface(), b)
		}
		return
	}
	if math.IsInf(v.Float(), 0) {
		t.Errorf("an infinity from %+v", b)
	}
}

// Whatever is told: no panic, every value finite or unknown, and the lesson goes through JSON.
func FuzzLesson(f *testing.F) {
	f.Add([]byte{0, 0, 1, 2, 3}, bits(100, 42, 0.002, 0.003, 120, 61.98, 0.002, 0.003, 4, 4.002, 0.001, 0.15, 0.002, 0.003, 0.001))
	f.Add([]byte{0, 4, 0, 0}, bits(-1e5, 1.001, 1e-9, 0, 1e5, 9e5, 1e-9, 1e5, 0, 1, 1e5, 0))
	f.Add([]byte{5, 0, 0, 0, 0}, bits(2, 0.02, 1, 0.003, 0, 0, 0, 0.1, 0.1, 0.002, 5, 5, 1, 0, 6, 6, 1e-9, 0, 7, 70, 1, 1, 8, 8, 1, 1))
	f.Add([]byte{0, 1, 2, 3}, bits(math.NaN(), math.Inf(1), -1, math.Inf(-1), 1e308, 1e308, 1e-308))
	f.Fuzz(func(t *testing.T, kinds, data []byte) {
		n := numbers(data)
		b := slide.Prior(benchSlide)
		if len(kinds) > 100 {
			kinds = kinds[:100]
		}
		for i, kind := range kinds {
			switch kind % 6 {
			case 0:
				b, _ = b.SeenRadius(slide.RadiusSeen{Count: n.next(), R: n.next(), U: n.next(), Common: n.next(), Setup: int(kind)})
			case 1:
				b, _ = b.SeenTravel(slide.TravelSeen{Turned: n.next(), Moved: n.next(), U: n.next()})
			case 2:
				b, _ = b.SeenReversal(slide.ReversalSeen{Turned: n.next(), U: n.next()})
			case 3:
				b, _ = b.SeenLock(slide.LockSeen{Moved: n.next(), U: n.next()})
			case 4:
				b = b.Reopen()
			case 5:
				if i == 0 { // any assumptions at all, if they pass
					a := b.Assumed
					for _, p := range []*float64{&a.TravelPerTurn, &a.Gain, &a.GainLimit, &a.MissLimit, &a.Hand, &a.Screw, &a.Backlash,
						&a.BacklashU, &a.LockSpread} {
						*p = n.next()
					}
					if (slide.Lesson{Assumed: a}).Check() == nil {
						b.Assumed = a
					}
				}
			}
		}
		if err := b.Check(); err != nil {
			t.Fatalf("a lesson that its own methods made: %v", err)
		}
		finiteOrUnknown(t, reflect.ValueOf(tell(b, 1, 1)), b)
		text, err := json.Marshal(b)
		if err != nil {
			t.Fatal(err)
		}
		var back slide.Lesson
		if err := json.Unmarshal(text, &back); err != nil || !reflect.DeepEqual(back, b) {
			t.Fatalf("%s comes back as %+v, %v", text, back, err)
		}
	})
}

// However wild what is told, the screening keeps the list such that something can be learnt.
func TestWildHistoriesStayKnown(t *testing.T) {
	rng := rand.New(rand.NewPCG(87, 1))
	for range 400 {
		b := slide.Prior(benchSlide)
		big := math.Pow(10, 5*rng.Float64())
		for range 12 {
			radius := 1 + big*rng.Float64()
			b, _ = b.SeenRadius(slide.RadiusSeen{Count: big * rng.NormFloat64(), R: radius, U: radius * math.Pow(10, -1-6*rng.Float64()),
				Common: radius * math.Pow(10, -1-6*rng.Float64()), Setup: rng.IntN(4)})
			if !b.Posterior().Known() {
				t.Fatalf("nothing is known after the last of %+v", b.Radii)
			}
		}
		if len(b.Radii) != 12 {
			t.Fatalf("%d radii of 12 taken in", len(b.Radii))
		}
	}
}

// Observations in one list that contradict each other by any amount, as a damaged journal could
// hold them past the screening, come to finite values or to unknown.
func TestContradictions(t *testing.T) {
	rng := rand.New(rand.NewPCG(80, 1))
	known := 0
	for range 2000 {
		b := slide.Prior(benchSlide)
		big := math.Pow(10, 5*rng.Float64())
		for i := range 2 + rng.IntN(6) {
			b.Radii = append(b.Radii, slide.RadiusSeen{Count: big * rng.NormFloat64(), R: 1 + big*rng.Float64(),
				U: math.Pow(10, -2-7*rng.Float64()), Common: rng.Float64() / 10, Setup: i % 3})
		}
		if b.Check() != nil {
			t.Fatal(b.Check())
		}
		finiteOrUnknown(t, reflect.ValueOf(tell(b, 1, 1)), b)
		if b.Posterior().Known() {
			known++
		}
	}
	t.Logf("%d of 2000 known", known)
	if known == 0 {
		t.Error("nothing is ever known: nothing was tested")
	}
}

// Whatever stands in a journal: refused, or read to a lesson that tells finite or unknown values
// and is written as what reads back the same.
func FuzzReadLesson(f *testing.F) {
	text, err := json.Marshal(whole(rand.New(rand.NewPCG(85, 1))))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte(`{"assumed":{"travel_per_turn":2,"grows":"decrease","gain":1,"gain_limit":0,"miss_limit":0,"hand":0,"screw":0,"backlash":0,"backlash_u":1e-9,"lock_spread":1e-9},"origin":3,"play_open":true,"radii":[{"count":-5,"r":5,"u":1e-9,"common":0,"setup":-1,"origin":2}]}`))
	f.Add([]byte(`{"assumed":null,"radii":[null]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		var b, back slide.Lesson
		if json.Unmarshal(text, &b) != nil {
			return
		}
		finiteOrUnknown(t, reflect.ValueOf(tell(b, 1, 1)), b)
		again, err := json.Marshal(b)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(again, &back); err != nil {
			t.Fatalf("%s is refused: %v", again, err)
		}
		if third, _ := json.Marshal(back); string(third) != string(again) {
			t.Fatalf("%s is written again as %s", again, third)
		}
	})
}
