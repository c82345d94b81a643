package session_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

func lineError(t testing.TB, err error) *session.LineError {
	t.Helper()
	var le *session.LineError
	if !errors.As(err, &le) {
		t.Fatalf("error %v, want a *LineError", err)
	}
	return le
}

// awkward are numbers that lose bits in a careless decimal form, as large as a journal holds them.
var awkward = []float64{0, 0.1, -0.326, 1.0 / 3, math.Pi, 5e-324, 999999999999.9999, -math.SmallestNonzeroFloat64, 1e12,
	2.2250738585072014e-308}

// samples are events of every kind.
func samples(t testing.TB) []session.Event {
	t.Helper()
	o := benchOpened(t)
	swing := 41.99733324134724
	out := []session.Event{
		o, session.Opened{Program: o.Program, Job: o.Job, Machine: o.Machine},
		session.Opened{Program: o.Program, Job: o.Job, Machine: o.Machine, Files: []session.File{{Name: "plate.dxf", SHA256: "00ff"}},
			Outline: []geom.Chain{{geom.Straight(geom.Point{}, geom.Point{X: 3}), geom.ArcOf(geom.Point{X: 1.0 / 3}, 16, 0.1, -2)}},
			Arc: &part.Picked{Part: "plate", N: 3, Centre: geom.Point{X: 1.0 / 3, Y: -2}, Radius: 16, From: 0.1, To: 6.4,
				Side: "inside", Cutter: 6, Swing: 19, Readout: geom.Point{X: 4, Y: 5}, Sense: "anticlockwise"}},
		session.Opened{Program: o.Program, Job: o.Job, Machine: o.Machine,
			Arcs: []session.Finished{{By: session.Means{Machine: "m", Cutter: 8, Reach: -12, Held: true}, Hollow: true, Off: 1.0 / 3,
				Own: 0.002, Common: 0.003, Measured: 0.01}}},
		session.Loaded{Slide: "offset"},
		session.Skipped{Bearing: 1.25}, session.Skipped{Bearing: 2.5, Off: session.Pressed}, session.Skipped{Off: session.Free},
		session.Undone{}, session.Restarted{},
		session.Wound{Slide: "y"},
		session.Accepted{Swing: &swing, Centre: [2]float64{0.0017, -0.0029}, Program: "trammel test"},
		session.Accepted{Centre: [2]float64{1.0 / 3, 0}},
		session.ClosingAsked{}, session.ClosingAsked{Wish: true}, session.Drifted{Change: -0.0123}, session.Evened{},
		session.Held{Radius: 42.003, Limit: 0.004}, session.Released{}, session.Biased{By: -0.018}, session.Biased{}, session.Reswept{},
		session.LimitStated{Figure: "reach", Limit: 0.02}, session.LimitStated{Figure: "dial"},
		session.Told{Step: 1, Of: 1, Open: true}, session.StoodAt{Slide: "x", At: 23.415}, session.BezelSet{Showed: -0.412},
		session.Wound{Slide: "x", Reading: &swing},
		session.Raised{Height: 30}, session.Tilted{Height: 30, X: 0.0001, Y: -0.0002, U: 0.00005, Limit: 0.0003},
		session.Tilted{Height: -30, Failed: true}, session.Swept{Why: session.ByTilt},
		session.Sensed{Slide: "x", Bearing: 1.5, Went: session.Down},
		session.Contradicted{Radius: 16.754, Stated: 30, Limit: 0.01, Station: 3},
		session.Contradicted{Radius: 1.0 / 3, Stated: 2, Drawn: true},
		session.Sized{Radius: 16.754}, session.Retouched{Station: 2},
		session.Worked{Step: session.CheckArc, Value: &swing, By: &session.MeasuredBy{Way: "chord", Assumed: true,
			Figures: []session.Figured{{Name: "chord", V: 30, Limit: 0.02},
				{Name: "sagitta", V: 1.0 / 3, Resolution: 0.01, Repeat: 0.002}}}},
		session.Ticked{N: 12},
		session.Noted{Text: `Ø60 <&> "quoted" \ back, 0.02 µm – line   end 🙂`},
	}
	would := -0.326
	for _, c := range []indicator.Cause{indicator.Revolution, indicator.TenDivisions, indicator.SignTurned, indicator.Swapped,
		indicator.UnknownCause} {
		out = append(out, session.Doubted{Station: 3, Because: c}, session.Doubted{Station: 64, Because: c, WouldBe: &would})
	}
	out = append(out, session.Kept{Station: 3}, session.Took{Bearing: 1.5, Reading: 0.1, Again: 3}, session.Skipped{Bearing: 1.5, Again: 2},
		session.Skipped{Bearing: 1.5, Off: session.Free, Again: 1})
	for _, w := range []session.Why{session.ByVerdict, session.ByWind, session.ByLimit, session.ByPerson} {
		out = append(out, session.Swept{Why: w})
	}
	for r := indicator.NoVerdict; r <= indicator.Undecided; r++ {
		for c := indicator.NoVerdict; c <= indicator.Undecided; c++ {
			out = append(out, session.Settled{Radius: r, Centre: c})
		}
	}
	for _, x := range awkward {
		out = append(out, session.Took{Bearing: 0.1, Reading: x})
	}
	for _, s := range o.Machine.Slides {
		for _, travel := range []float64{0.231, -0.231, 7} {
			out = append(out, session.Told{Step: 1, Of: 3, Wind: s.Wind(travel)})
		}
	}
	return append(out, session.Told{Step: 2, Of: 2, Wind: slide.Wind{Slide: "x"}})
}

func TestEncodeDecode(t *testing.T) {
	when := time.Date(2025, 3, 4, 10, 12, 31, 987_000_000, time.FixedZone("workshop", 3600))
	for n, e := range samples(t) {
		line, err := session.Encode(n+1, when, e)
		if err != nil {
			t.Fatalf("%T: %v", e, err)
		}
		if strings.ContainsAny(string(line), "\n\r") || !json.Valid(line) {
			t.Fatalf("%T: %q is not one JSON object on one line", e, line)
		}
		r, err := session.Decode(n+1, line)
		if err != nil {
			t.Fatalf("%T: %v", e, err)
		}
		if r.V != 1 || r.N != n+1 || !r.T.Equal(when) || r.T.Location() != time.UTC {
			t.Errorf("%T: version %d, number %d, time %v, want 1, %d, %v in UTC", e, r.V, r.N, r.T, n+1, when.UTC())
		}
		wantSame(t, fmt.Sprintf("event %d (%T)", n+1, e), &r.Event, &e)
	}
}

// The form of a line is fixed: the design's example names its fields and their order.
func TestLineForm(t *testing.T) {
	would := -0.326
	for _, c := range []struct {
		event session.Event
		want  string
	}{
		{session.Took{Bearing: 0.5, Reading: -0.326},
			`{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"reading","d":{"bearing":0.5,"reading":-0.326}}`},
		{session.Took{Bearing: 0.5, Reading: -0.326, Again: 3},
			`{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"reading","d":{"bearing":0.5,"reading":-0.326,"again":3}}`},
		{session.Took{Bearing: 0.5, Reading: -0.326, Again: 3, Corrected: true},
			`{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"reading","d":{"bearing":0.5,"reading":-0.326,"again":3,"corrected":true}}`},
		{session.Skipped{Bearing: 2, Again: 3}, `{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"skipped","d":{"bearing":2,"again":3}}`},
		{session.Doubted{Station: 3, Because: indicator.UnknownCause},
			`{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"doubted","d":{"station":3,"because":"unknown","would_be":null}}`},
		{session.Doubted{Station: 3, Because: indicator.TenDivisions, WouldBe: &would},
			`{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"doubted","d":{"station":3,"because":"ten divisions","would_be":-0.326}}`},
		{session.Kept{Station: 3}, `{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"kept","d":{"station":3}}`},
		{session.Skipped{Bearing: 2}, `{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"skipped","d":{"bearing":2}}`},
		{session.ClosingAsked{}, `{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"closing","d":{}}`},
		{session.Drifted{Change: 0.021}, `{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"drifted","d":{"change":0.021}}`},
		{session.Sensed{Slide: "x", Bearing: 0, Went: session.Up},
			`{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"sense","d":{"slide":"x","bearing":0,"went":"up"}}`},
		{session.Tilted{Height: 30, X: 0.0001, Y: -0.0002, U: 0.00005, Limit: 0.0003},
			`{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"tilt","d":{"height":30,"x":0.0001,"y":-0.0002,"u":0.00005,"limit":0.0003}}`},
		{session.Held{Radius: 42.003, Limit: 0.004},
			`{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"held","d":{"radius":42.003,"limit":0.004}}`},
		{session.Evened{}, `{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"evened","d":{}}`},
		{session.Undone{}, `{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"undone","d":{}}`},
		{session.Accepted{Centre: [2]float64{1, 2}},
			`{"v":1,"n":17,"t":"2025-03-04T09:12:31.500Z","k":"accepted","d":{"swing":null,"centre":[1,2],"program":""}}`},
	} {
		got, err := session.Encode(17, time.Date(2025, 3, 4, 9, 12, 31, 500_999_999, time.UTC), c.event)
		if err != nil || string(got) != c.want {
			t.Errorf("%T: %s (%v), want %s", c.event, got, err, c.want)
		}
	}
}

func TestEncodeRefusesWhatJSONCannotHold(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if line, err := session.Encode(1, begin, session.Took{Reading: x}); err == nil {
			t.Errorf("reading %v was written as %s", x, line)
		}
	}
}

func TestDecodeRefuses(t *testing.T) {
	const good = `{"v":1,"n":3,"t":"2025-03-04T09:12:31.000Z","k":"reading","d":{"bearing":0.5,"reading":-0.326}}`
	if _, err := session.Decode(3, []byte(good)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new, says string }{
		{"corrected without a doubt", `-0.326}`, `-0.326,"corrected":true}`, `corrected without again`},
		{"unknown kind", `"reading","d"`, `"sounding","d"`, `event "sounding" is not known to this program`},
		{"kind of another case", `"reading","d"`, `"Reading","d"`, `event "Reading" is not known`},
		{"no kind", `"k":"reading",`, ``, `event "" is not known`},
		{"unknown field of the line", `"v":1`, `"v":1,"w":1`, `unknown field "w"`},
		{"unknown field of the event", `"bearing":0.5`, `"bearing":0.5,"table":1`, `event "reading": json: unknown field "table"`},
		{"newer version", `"v":1`, `"v":2`, "line form version 2, this program reads version 1"},
		{"no version", `"v":1,`, ``, "line form version 0"},
		{"wrong number", `"n":3`, `"n":4`, "event number 4, need 3"},
		{"number is no number", `"n":3`, `"n":"3"`, "not an event"},
		{"number is no whole number", `"n":3`, `"n":3.5`, "not an event"},
		{"no time", `"t":"2025-03-04T09:12:31.000Z",`, ``, `time "", need the form 2006-01-02T15:04:05.000Z`},
		{"time without milliseconds", `31.000Z`, `31Z`, `time "2025-03-04T09:12:31Z", need the form`},
		{"time of another zone", `31.000Z`, `31.000+01:00`, "need the form"},
		{"no such day", `03-04T`, `02-30T`, "need the form"},
		{"no such hour", `T09:`, `T24:`, "need the form"},
		{"event is missing", `,"d":{"bearing":0.5,"reading":-0.326}`, ``, `event "reading"`},
		{"event is null", `{"bearing":0.5,"reading":-0.326}`, `null`, `event "reading"`},
		{"event is a list", `{"bearing":0.5,"reading":-0.326}`, `[0.5,-0.326]`, `event "reading"`},
		{"reading is a text", `-0.326`, `"-0.326"`, `event "reading"`},
		{"reading is too large", `-0.326`, `-3e999`, `event "reading"`},
		{"reading that nothing shows", `-0.326`, `-3e99`, `event "reading": field "reading": number -3e99, need 1e+12 at most`},
		{"written out", `-0.326`, `-3000000000000.5`, `event "reading": field "reading": number -3000000000000.5, need 1e+12 at most`},
		{"reading is null", `-0.326`, `null`, `event "reading": field "reading": null, need a value`},
		{"no reading", `,"reading":-0.326`, ``, `event "reading": no field "reading", need it`},
		{"half a point", `-0.326}`, `-0.326,"at":{"x":1}}`, `event "reading": field "at": no field "y", need it`},
		{"null in a point", `-0.326}`, `-0.326,"at":{"x":1,"y":null}}`, `field "at": field "y": null, need a value`},
		{"a field twice", `"bearing":0.5`, `"bearing":0.5,"bearing":1.5`, `event "reading": field "bearing" twice, need it once`},
		{"escaped and twice", `"bearing":0.5`, `"bearing":0.5,"b\u0065aring":1.5`, `field "bearing" twice`},
		{"field of other letters", `"bearing":0.5`, `"Bearing":0.5`, `event "reading": field "Bearing", need it in the letters of its name`},
		{"field in a field", `-0.326}`, `-0.326,"at":{"x":1,"X":2,"y":3}}`, `field "X", need it in the letters of its name`},
		{"field of a gauge", `-0.326}`, `-0.326,"gauge":{"source":"exec:a","samples":1,"Samples":9}}`, `field "Samples", need it`},
		{"a gauge of nothing", `-0.326}`, `-0.326,"gauge":{"source":"","samples":0}}`, `event "reading": a gauge without anything in it`},
		{"field of the line twice", `"k":"reading"`, `"k":"note","k":"reading"`, `not an event: field "k" twice`},
		{"field of the line in other letters", `"k":"reading"`, `"K":"reading"`, `not an event: field "K", need it`},
		{"another object follows", good, good + good, "something follows the object"},
		{"a brace follows", good, good + `}`, "something follows the object"},
		{"a bracket follows", good, good + ` ]`, "something follows the object"},
		{"letters follow", good, good + ` x`, "something follows the object"},
		{"cut short", `0.326}}`, `0.3`, "not an event"},
		{"no object", good, `[1,3]`, "not an event"},
		{"null", good, `null`, "not an event: begins with 'n', need a JSON object"},
		{"empty", good, ``, "not an event"},
		{"not JSON", good, "\x00\xff\x17 reading -0.326", "not an event"},
	} {
		line := strings.Replace(good, c.old, c.new, 1)
		if line == good {
			t.Fatalf("%s: the line is still good", c.name)
		}
		r, err := session.Decode(3, []byte(line))
		if err == nil {
			t.Errorf("%s: %s was read as %+v", c.name, line, r)
			continue
		}
		if le := lineError(t, err); le.Number != 3 || !strings.Contains(le.Error(), "journal line 3: ") ||
			!strings.Contains(le.Why, c.says) {
			t.Errorf("%s: %q, want line 3 and %q", c.name, le, c.says)
		}
		if r.Event != nil {
			t.Errorf("%s: refused, and yet gives %+v", c.name, r.Event)
		}
	}
}

// A word that an event may not have is as unknown as a kind.
func TestDecodeRefusesUnknownWords(t *testing.T) {
	for _, d := range []string{
		`"k":"settled","d":{"radius":"perhaps","centre":"inside"}`,
		`"k":"settled","d":{"radius":1,"centre":2}`,
		`"k":"told","d":{"step":1,"of":1,"wind":{"slide":"x","travel":1,"moves":[{"turn":"left","turns":0,"divisions":5}],"collar_to":5}}`,
		`"k":"told","d":{"step":1,"of":1,"wind":{"slide":"x","travel":1,"moves":[{"turns":0,"divisions":5}],"collar_to":5}}`,
		`"k":"opened","d":{"program":"p","job":{"unit":"cubit"},"machine":{}}`,
		`"k":"opened","d":{"program":"p","job":{"setup":{"touch":"face"}},"machine":{}}`,
		`"k":"skipped","d":{"bearing":1,"off":"sideways"}`,
		`"k":"swept","d":{"why":"tired"}`,
		`"k":"swept","d":{"why":""}`,
		`"k":"doubted","d":{"station":3,"because":"tired","would_be":null}`,
		`"k":"doubted","d":{"station":3,"because":"","would_be":null}`,
	} {
		line := `{"v":1,"n":1,"t":"2025-03-04T09:12:31.000Z",` + d + `}`
		if r, err := session.Decode(1, []byte(line)); err == nil {
			t.Errorf("%s was read as %+v", line, r.Event)
		}
	}
}

// FuzzDecode: whatever the bytes, no crash; what is read can be written, reads the same again,
// and can be applied.
func FuzzDecode(f *testing.F) {
	for i, l := range everyKind(f).mem.Lines {
		f.Add(i+1, l)
	}
	for i, e := range samples(f) {
		line, err := session.Encode(i+1, begin, e)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(i+1, line)
	}
	f.Add(1, []byte(`{"v":1,"n":1,"t":"2025-03-04T09:12:31.000Z","k":"reading","d":null}`))
	f.Add(64, []byte(`{"v":1,"n":64,"t":"0000-01-01T00:00:00,000Z","k":"told","d":{"step":0,"of":0,`+
		`"wind":{"slide":"","travel":0.0,"moves":[{}]}}}`))
	f.Add(1, []byte(`{"V":1,"N":1,"T":"2025-03-04T09:12:31.000Z","K":"note","D":{"TEXT":"\ud800"}}`))
	f.Fuzz(func(t *testing.T, n int, line []byte) {
		r, err := session.Decode(n, line)
		if err != nil {
			if le := lineError(t, err); le.Number != n || le.Why == "" {
				t.Fatalf("error %+v, want line %d and a reason", le, n)
			}
			return
		}
		out, err := session.Encode(n, r.T, r.Event)
		if err != nil {
			t.Fatalf("%s was read and cannot be written: %v", line, err)
		}
		again, err := session.Decode(n, out)
		if err != nil {
			t.Fatalf("%s was written as %s: %v", line, out, err)
		}
		wantSame(t, "read again", &again.Event, &r.Event)
		s := session.State{}.Apply(r.Event)
		s.Prompt()
		session.Follow(s)
	})
}
