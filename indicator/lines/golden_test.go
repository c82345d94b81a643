package lines_test

import (
	"bytes"
	"fmt"
	"path/filepath"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

func jsonOf(t testing.TB, all []lines.Line) []byte {
	t.Helper()
	var b bytes.Buffer
	for _, l := range all {
		b.Write(encode(t, l))
		b.WriteByte('\n')
	}
	return b.Bytes()
}

func textOf(all []lines.Line) []byte {
	var b bytes.Buffer
	for _, l := range all {
		b.WriteString(l.Text())
		b.WriteByte('\n')
	}
	return b.Bytes()
}

// Everything that is said of one practice session, from the first load to the acceptance.
func TestGoldenPractice(t *testing.T) {
	steps, _ := play(t, 7, bench(t, nil))
	all := say(steps, geom.Millimetre)
	wantGolden(t, "practice-7.jsonl", jsonOf(t, all))
	wantGoldenText(t, "practice-7.txt", textOf(all))
	wantGoldenText(t, "practice-7-in.txt", textOf(say(steps, geom.Inch)))
}

// The same of a session with every kind of entry, read from its journal.
func TestGoldenEveryKind(t *testing.T) {
	all := say(replay(t, "v1-every-kind.jsonl"), geom.Millimetre)
	wantGolden(t, "every-kind.jsonl", jsonOf(t, all))
	wantGoldenText(t, "every-kind.txt", textOf(all))
}

// The same of a session with misreads: doubted and read again, kept, skipped, taken back.
func TestGoldenMisread(t *testing.T) {
	all := say(replay(t, "v1-misread.jsonl"), geom.Millimetre)
	wantGolden(t, "misread.jsonl", jsonOf(t, all))
	wantGoldenText(t, "misread.txt", textOf(all))
}

// The same of two settings on a rotary table, wound by the collars and then under the needle.
func TestGoldenTurned(t *testing.T) {
	all := say(replay(t, "v1-turned.jsonl"), geom.Millimetre)
	wantGolden(t, "turned.jsonl", jsonOf(t, all))
	wantGoldenText(t, "turned.txt", textOf(all))
}

// The same of three settings whose readings come from a cable indicator.
func TestGoldenCable(t *testing.T) {
	all := say(replay(t, "v1-cable.jsonl"), geom.Millimetre)
	wantGolden(t, "cable.jsonl", jsonOf(t, all))
	wantGoldenText(t, "cable.txt", textOf(all))
}

// What was said of each journal that is kept, of those for one rare field too, to the end where it stands: in millimetres the text, in
// inches the figures.
func TestGoldenJournals(t *testing.T) {
	for name, folder := range map[string]string{"fields": "fields", "kept": ""} {
		files, err := filepath.Glob(filepath.Join("../../testdata/journal", folder, "*.jsonl"))
		if err != nil || len(files) < 15 {
			t.Fatalf("%d journals, %v", len(files), err)
		}
		var text, figures []byte
		for _, f := range files {
			steps := replay(t, filepath.Join(folder, filepath.Base(f)))
			text = fmt.Appendf(text, "== %s\n%s", filepath.Base(f), textOf(say(steps, geom.Millimetre)))
			figures = fmt.Appendf(figures, "{\"journal\":%q}\n%s", filepath.Base(f), jsonOf(t, say(steps, geom.Inch)))
		}
		wantGoldenText(t, name+".txt", text)
		wantGolden(t, name+".jsonl", figures)
	}
}

// A replay of the journal says the same bytes as the live session did, in either unit.
func TestReplaySaysTheSame(t *testing.T) {
	for seed := uint64(1); seed <= 20; seed++ {
		live, journal := play(t, seed, bench(t, nil))
		var again []session.Step
		if _, err := session.Fold(journal, func(st session.Step) { again = append(again, st) }); err != nil {
			t.Fatal(err)
		}
		for _, u := range []geom.Unit{geom.Millimetre, geom.Inch} {
			if got, want := jsonOf(t, say(again, u)), jsonOf(t, say(live, u)); !bytes.Equal(got, want) {
				t.Errorf("seed %d, %v: replayed\n%s\nlive\n%s", seed, u, got, want)
			}
			if got, want := textOf(say(again, u)), textOf(say(live, u)); !bytes.Equal(got, want) {
				t.Errorf("seed %d, %v: replayed\n%s\nlive\n%s", seed, u, got, want)
			}
		}
	}
}

// The same of a setting whose arc is cut in passes, by a drawing that says where it begins and stops.
func TestGoldenPasses(t *testing.T) {
	o := bench(t, func(o *session.Opened) {
		o.Steps = true
		o.Job.Cut = &setup.Cut{Cutter: 8, Stock: 0.3, Depth: 5, Step: 2, Spring: true}
		past := geom.FromDegrees(0.5)
		o.Arc = &part.Picked{Part: "plate", N: 3, Radius: 38, From: geom.FromDegrees(20), To: geom.FromDegrees(250), Side: "inside",
			Cutter: 8, Swing: 42, Sense: "anticlockwise", AtFrom: &part.Window{Past: &past, Short: geom.FromDegrees(1)},
			AtTo: &part.Window{Short: geom.FromDegrees(1)}}
	})
	steps, _ := play(t, 7, o)
	var all []lines.Line
	for _, st := range steps {
		if st.After.Accepted() {
			all = append(all, lines.Of(st, geom.Millimetre)...)
		}
	}
	wantGolden(t, "passes.jsonl", jsonOf(t, all))
	wantGoldenText(t, "passes.txt", textOf(all))
}
