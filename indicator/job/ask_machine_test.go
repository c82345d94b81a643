package job_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// askAll answers questions by their keys, an empty line where nothing is said of one, and returns the keys asked.
func askAll(t interface{ Fatalf(string, ...any) }, q job.Asking, answers map[string]string) (done job.Asking, keys []string) {
	for range 200 {
		now, more := q.Next()
		if !more {
			return q, keys
		}
		keys = append(keys, now.Key)
		next, err := q.Answer(answers[now.Key])
		if err != nil {
			t.Fatalf("%s answered with %q is refused: %v", now.Key, answers[now.Key], err)
		}
		q = next
	}
	t.Fatalf("the questions do not end: %q", keys)
	return q, keys
}

// typed is a length as a hand may type it, with a point or a comma, and what is meant.
func typed(t *rapid.T, name string, least, most float64) (text string, v float64) {
	v = math.Round(rapid.Float64Range(least, most).Draw(t, name)*1e4) / 1e4
	text = strconv.FormatFloat(v, 'f', -1, 64)
	if rapid.Bool().Draw(t, name+" comma") {
		text = strings.ReplaceAll(text, ".", ",")
	}
	return text, v
}

// What is answered, in any way that it may be, is what the machine's parser reads of the file that is written. What is expected is
// put down beside the answer as it is drawn, and never comes from the questions.
func TestMachineAnswersAreWhatIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]geom.Unit{geom.Millimetre, geom.Inch}).Draw(t, "unit")
		names := rapid.SampledFrom([][]string{{"offset", "x", "y"}, {"x", "y"}, {"offset"}, {"offset", "table_x", "table_y"},
			{"table_y", "table_x", "y", "x", "offset"}}).Draw(t, "slides")
		say := map[string]string{"name": "mill 2", "unit": unit.String()}
		say["slides"] = strings.Join(names, rapid.SampledFrom([]string{" ", ", ", ","}).Draw(t, "between"))
		if n := slices.Index([]string{"offset x y", "offset table_x table_y", "x y", "offset"}, strings.Join(names, " ")); n >= 0 &&
			rapid.Bool().Draw(t, "by number") {
			say["slides"] = strconv.Itoa(n + 1)
		}
		want := setup.Machine{Name: "mill 2", Unit: unit}
		for _, name := range names {
			want.Slides = append(want.Slides, drawnSlide(t, say, name, unit))
		}
		zero := rapid.IntRange(-180, 180).Draw(t, "zero")
		clockwise := rapid.Bool().Draw(t, "sense")
		for _, ring := range []string{"head", "table"} {
			say[ring+".zero"] = strconv.Itoa(zero)
			if clockwise {
				say[ring+".sense"] = "clockwise"
			}
		}
		done, _ := askAll(t, job.MachineQuestions(job.Facts{}), say)
		m, err := job.ParseMachine("m.toml", done.Text())
		if err != nil {
			t.Fatalf("what was answered cannot be read: %v\n%s", err, done.Text())
		}
		if m.Name != want.Name || m.Unit != want.Unit || len(m.Slides) != len(want.Slides) {
			t.Fatalf("read %q in %v with %d slides, want %q in %v with %d", m.Name, m.Unit, len(m.Slides), want.Name, want.Unit,
				len(want.Slides))
		}
		for _, w := range want.Slides {
			got, ok := m.Slide(w.Name)
			w.Askew, w.AskewLimit, w.Figures = got.Askew, got.AskewLimit, slide.Clockwise // not asked
			if !ok || fmt.Sprintf("%+.9v", got) != fmt.Sprintf("%+.9v", w) {
				t.Fatalf("read  %+v\nwant %+v\n%s", got, w, done.Text())
			}
		}
		wantRing(t, m, names, float64(zero), clockwise)
	})
}

// wantRing checks the rings that are asked about with these slides: of the head with a head's, of the table with a table's.
func wantRing(t *rapid.T, m setup.Machine, names []string, zero float64, clockwise bool) {
	offset, x, table := slices.Contains(names, "offset"), slices.Contains(names, "x"), slices.Contains(names, "table_x")
	for _, r := range []struct {
		asked bool
		ring  setup.Ring
	}{{offset && x, m.Head}, {offset && (table || !x), m.Table}} {
		want := 0.0
		if r.asked {
			want = zero
		}
		if math.Abs(r.ring.Zero.Degrees()-want) > 1e-9 || (r.ring.Figures == slide.Clockwise) != (r.asked && clockwise) {
			t.Fatalf("slides %v: ring shows 0 at %v, grows %v; want %v, clockwise seen from above %v", names, r.ring.Zero.Degrees(),
				r.ring.Figures, want, r.asked && clockwise)
		}
	}
}

// eyes are what the eye sees as each slide's coordinate grows: X right, Y away, the offset slide away from the axis (DEVELOPERS.md,
// signs and frames).
var eyes = map[string][2]string{"x": {"right", "left"}, "y": {"away", "towards"}, "table_x": {"right", "left"},
	"table_y": {"away", "towards"}, "offset": {"away", "towards"}}

func drawnSlide(t *rapid.T, say map[string]string, name string, u geom.Unit) slide.Slide {
	key := func(k string) string { return "slide." + name + "." + k }
	w := slide.Slide{Name: name, Clockwise: slide.Increase, TakeUp: slide.Increase}
	var v float64
	say[key("travel_per_turn")], v = typed(t, name+" travel", 0.01, 10)
	w.TravelPerTurn = u.MM(v)
	w.Divisions = float64(rapid.IntRange(10, 500).Draw(t, name+" divisions"))
	say[key("divisions")] = strconv.Itoa(int(w.Divisions))
	seen := rapid.IntRange(0, 1).Draw(t, name+" seen")
	say[key("clockwise")] = rapid.SampledFrom([]string{eyes[name][seen], []string{"increase", "decrease"}[seen],
		strconv.Itoa(seen + 1)}).Draw(t, name+" said")
	if seen == 1 {
		w.Clockwise = slide.Decrease
	}
	w.TakeUp = w.Clockwise // clockwise last, unless it is said otherwise
	if rapid.Bool().Draw(t, name+" anticlockwise last") {
		say[key("take_up")], w.TakeUp = "anticlockwise", -w.Clockwise
	}
	w.Backlash = 0.3 // the guess: 0.3 mm, as it is told
	if u == geom.Inch {
		w.Backlash = u.MM(0.012) // which is that to two figures
	}
	if rapid.Bool().Draw(t, name+" knows") {
		say[key("backlash")], v = typed(t, name+" backlash", 0, 1)
		w.Backlash = u.MM(v)
	}
	if w.Readout = rapid.Bool().Draw(t, name+" readout"); w.Readout {
		say[key("readout")] = "true"
		say[key("readout_step")] = "0.001"
		w.Step = u.MM(0.001)
	}
	if w.Lock = rapid.Bool().Draw(t, name+" lock"); w.Lock {
		say[key("lock")] = "yes"
	}
	if rapid.Bool().Draw(t, name+" ends") {
		var low, high float64
		var a, b string
		a, low = typed(t, name+" low", -100, 0)
		b, high = typed(t, name+" high", 1, 100)
		say[key("travel")], w.Low, w.High = a+" "+b, u.MM(low), u.MM(high)
	}
	return w
}

// Wherever one goes back, the same question comes again, and what was answered before it stands; from the last one all the way to
// the first, and no farther.
func TestBack(t *testing.T) {
	say := map[string]string{"name": "mill", "slide.offset.clockwise": "away", "slide.x.clockwise": "left", "slide.y.clockwise": "away"}
	q := job.MachineQuestions(job.Facts{})
	var keys []string
	var texts []string
	for {
		now, more := q.Next()
		texts = append(texts, string(q.Text()))
		if !more {
			break
		}
		keys = append(keys, now.Key)
		var err error
		if q, err = q.Answer(say[now.Key]); err != nil {
			t.Fatal(err)
		}
	}
	if len(keys) < 20 || len(q.Given()) != len(keys) {
		t.Fatalf("%d questions and %d answers, want as many, more than 20", len(keys), len(q.Given()))
	}
	for i := len(keys) - 1; i >= 0; i-- {
		var err error
		if q, err = q.Back(); err != nil {
			t.Fatal(err)
		}
		if now, _ := q.Next(); now.Key != keys[i] || string(q.Text()) != texts[i] {
			t.Fatalf("back at %s, want %s and\n%s, have\n%s", now.Key, keys[i], texts[i], q.Text())
		}
	}
	if _, err := q.Back(); err == nil {
		t.Error("one can go back before the first question")
	}
	// A name that came with the command is no question.
	named := job.MachineQuestions(job.Facts{Name: "lathe"})
	if now, _ := named.Next(); now.Key != "unit" {
		t.Errorf("the first question is %s, want unit", now.Key)
	}
	if _, err := named.Back(); err == nil || named.Name() != "lathe" {
		t.Errorf("back takes the name away that is given: %v, %q", err, named.Name())
	}
}

// Wrong answers are refused with what was seen and what is needed, and change nothing.
func TestMachineAnswersRefused(t *testing.T) {
	at := map[string]string{"name": "mill", "slide.offset.clockwise": "away", "slide.offset.readout": "true"}
	for _, c := range []struct{ key, answer, because string }{
		{"name", "unknown", "has to be known"},
		{"name", "a/b", "need letters"},
		{"name", "..", "need letters"},
		{"name", "MILL 1", "is there already"},
		{"name", strings.Repeat("m", 61), "61 bytes, need at most 60"},
		{"name", "a\x1b[31m", "need printable"},
		{"unit", "furlong", `"furlong", need one of mm, in`},
		{"unit", "3", `"3", need one of mm, in`},
		{"unit", "0", `"0", need one of mm, in`},
		{"slides", "offset z", `unknown slide "z"`},
		{"slides", "x x", "named twice"},
		{"slides", ",", "names no slide"},
		{"slides", "offset x", "need x and y together"},
		{"slide.offset.travel_per_turn", "0", "0, must be 0.001 mm or above"},
		{"slide.offset.travel_per_turn", "two", "is not a number"},
		{"slide.offset.travel_per_turn", "unknown", "has to be known"},
		{"slide.offset.travel_per_turn", "1e10", "need a number not beyond"},
		{"slide.offset.divisions", "99.5", "99.5, must be a whole number of marks"},
		{"slide.offset.clockwise", "", "nothing is typed"},
		{"slide.offset.clockwise", "right", `"right", need one of away, towards`},
		{"slide.offset.backlash", "-0.1", "-0.1, must be 0 mm or above"},
		{"slide.offset.readout", "maybe", `"maybe", need one of true, false`},
		{"slide.offset.readout_step", "0", "0, must be above 0 mm"},
		{"slide.offset.travel", "60", "need two numbers"},
		{"slide.offset.travel", "60 0", "need two numbers, the lower first"},
	} {
		q := job.MachineQuestions(job.Facts{Taken: []string{"mill 1"}})
		for {
			now, more := q.Next()
			if !more {
				t.Fatalf("%s is not asked", c.key)
			}
			if now.Key == c.key {
				break
			}
			var err error
			if q, err = q.Answer(at[now.Key]); err != nil {
				t.Fatal(err)
			}
		}
		before := string(q.Text())
		after, err := q.Answer(c.answer)
		var no *job.Unfit
		if !errors.As(err, &no) || !strings.Contains(no.Because, c.because) {
			t.Errorf("%s answered with %q: %v, want refused: %s", c.key, c.answer, err, c.because)
		}
		if now, _ := after.Next(); now.Key != c.key || string(after.Text()) != before {
			t.Errorf("%s answered with %q: the question is %s then", c.key, c.answer, now.Key)
		}
	}
}

// Every collar that is offered brings its own marks, and a second slide is offered what the first was answered with.
func TestCollarsOffered(t *testing.T) {
	for _, u := range []geom.Unit{geom.Millimetre, geom.Inch} {
		say := map[string]string{"name": "mill", "unit": u.String(), "slide.offset.clockwise": "away"}
		offered := 0
		for i := 0; ; i++ {
			q := job.MachineQuestions(job.Facts{})
			now, _ := q.Next()
			for now.Key != "slide.offset.travel_per_turn" {
				q, _ = q.Answer(say[now.Key])
				now, _ = q.Next()
			}
			collars := slices.DeleteFunc(slices.Clone(now.Choices), func(c string) bool { return now.ShortOf(c) != "" })
			if i == len(collars) {
				break
			}
			q, _ = q.Answer(now.Choices[i])
			if now, _ := q.Next(); now.Key != "slide.offset.divisions" || now.Default == "" || !now.Numeral {
				t.Errorf("%v a turn: %s has the default %q", now.Choices[i:], now.Key, now.Default)
			}
			q, _ = q.Answer("80")
			for now, _ = q.Next(); now.Key != "slide.x.divisions"; now, _ = q.Next() {
				q, _ = q.Answer(say[now.Key])
			}
			if now.Default != "80" {
				t.Errorf("the X slide is offered %s marks, want the 80 of the offset slide with the same screw", now.Default)
			}
			offered++
		}
		if offered < 5 {
			t.Errorf("%d collars in %v, want at least 5", offered, u)
		}
	}
}

// Whatever is typed is taken or refused, and nothing else: a refusal changes nothing, and what is taken leaves a text in which
// only what is still to be asked is missing. At the end it can be read.
func TestAnyAnswer(t *testing.T) {
	atoms := []string{"", "?", "back", "unknown", "1", "2", "0", "-1", "0.01", "1e308", "d 60", "d", "true", "offset x y", "x,y", "points",
		"turned", "boss", "away", "right", "increase", "caliper", "don't know", "mm", "in", "\"", "\\", "\xff", "#", "]\n[", "1 2", "42"}
	rapid.Check(t, func(t *rapid.T) {
		q, read := job.MachineQuestions(job.Facts{}), func(b []byte) error { _, err := job.ParseMachine("m", b); return err }
		if rapid.Bool().Draw(t, "job") {
			q = job.JobQuestions(job.Facts{Machine: mill("offset", "x", "y")})
			read = func(b []byte) error { _, err := job.ParseJob("j", b); return err }
		}
		for range 150 {
			now, more := q.Next()
			if !more {
				if err := read(q.Text()); err != nil {
					t.Fatalf("all is answered, and it cannot be read: %v\n%s", err, q.Text())
				}
				return
			}
			text := rapid.OneOf(rapid.SampledFrom(append(atoms, now.Choices...)), rapid.String()).Draw(t, now.Key)
			before := string(q.Text())
			next, err := q.Answer(text)
			switch {
			case err != nil && (string(next.Text()) != before || len(next.Given()) != len(q.Given())):
				t.Fatalf("%s refuses %q (%v) and changes\n%s to\n%s", now.Key, text, err, before, next.Text())
			case err == nil && (strings.HasSuffix(now.Key, "_found") || strings.HasSuffix(now.Key, ".again")) &&
				len(next.Given()) <= len(q.Given()): // read again
			case err == nil && len(next.Given()) != len(q.Given())+1:
				t.Fatalf("%s takes %q, and has %d answers, had %d", now.Key, text, len(next.Given()), len(q.Given()))
			}
			if q = next; q.Help() == "" && len(q.Given()) == 0 {
				t.Fatalf("%s is not explained", now.Key)
			}
		}
	})
}

// A name is proposed that no other machine has, whatever letters that is written in.
func TestNameProposed(t *testing.T) {
	for want, taken := range map[string][]string{"mill": {"lathe"}, "mill 2": {"Mill"}, "mill 3": {"mill 2", "mill", "mill 4"}} {
		q := job.MachineQuestions(job.Facts{Taken: taken})
		if now, _ := q.Next(); now.Default != want {
			t.Errorf("beside %q the name %q is proposed, want %q", taken, now.Default, want)
		}
		if q, err := q.Answer(""); err != nil || q.Name() != want {
			t.Errorf("Enter alone names it %q (%v), want %q", q.Name(), err, want)
		}
	}
}

// What has been answered is shown in few words, each figure with its unit, a guess and what is not known as such.
func TestAnswered(t *testing.T) {
	q := job.MachineQuestions(job.Facts{Name: "bench"})
	if q.Begun() {
		t.Error("a name that is given can be taken back")
	}
	for _, a := range []string{"in", "offset table_x table_y", "0,10", "", "1", "", "unknown", "", "", "unknown"} {
		var err error
		if q, err = q.Answer(a); err != nil {
			t.Fatal(err)
		}
	}
	var want []job.Answered
	for _, w := range [][2]string{{"name", "bench"}, {"unit", "in"}, {"slides", "offset table_x table_y"},
		{"offset travel per turn", "0.1 in"},
		{"offset marks", "100"}, {"offset clockwise turn", "away"}, {"offset last movement", "clockwise, facing the handle"},
		{"offset backlash", "not known: 0.012 in, a guess"}, {"offset has a readout", "false"}, {"offset is clamped", "false"},
		{"offset travel, both ends", "not known"}} {
		want = append(want, job.Answered{Short: w[0], Answer: w[1]})
	}
	if got := q.Answered(); !slices.Equal(got, want) {
		t.Errorf("answered %v, want %v", got, want)
	}
	if cuts := q.Cuts(); cuts != "" {
		t.Errorf("a machine cuts %q, want nothing", cuts)
	}
	if now, _ := q.Next(); now.Short() != "table X travel per turn" {
		t.Errorf("then %q is asked", now.Short())
	}
}
