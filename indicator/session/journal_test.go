package session_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// The golden journals were written once and are to open for ever, so there is no flag to write
// them anew: this one makes those that are missing, and a file that exists is left alone.
var writeJournals = flag.Bool("write-journals", false, "write the golden journals that do not exist")

// goldens are the journals in testdata, and the sessions that they were written from.
var goldens = []struct {
	name string
	play func(testing.TB) *player
}{
	{"v1-practice-7.jsonl", func(t testing.TB) *player { return bench(t, 7).until(session.ForNothing) }},
	{"v1-every-kind.jsonl", everyKind},
	{"v1-misread.jsonl", misreads},
	{"v1-parked.jsonl", parked},
	{"v1-turned.jsonl", onTable},
	{"v1-by-steps.jsonl", bySteps},
	{"v1-sized.jsonl", sizedPoints},
	{"v1-stated.jsonl", limits},
	{"v1-collars.jsonl", collars},
	{"v1-trial-cut.jsonl", cutByTrial},
	{"v1-cable.jsonl", cabled},
	{"v1-plate.jsonl", ticking},
	{"v1-bumped.jsonl", bumps},
	{"v1-parts.jsonl", batched},
	{"v1-scatter.jsonl", scattered},
}

// bySteps plays a setting step by step: signs checked, a bias of one's own, two readings across that are called enough,
// a second sweep at another height, each taken back once, to the checked arc.
func bySteps(t testing.TB) *player {
	t.Helper()
	o := benchOpened(t)
	o.Steps, o.Job.Sweep.AtLeast = true, 6
	p := open(t, o, practice.New(practice.Bench(7), 7)).answer(1)
	p.do(session.Undo{}, session.Confirm{}, session.Skip{}, session.Sense{Slide: session.Tip, Went: session.Up}, session.Undo{},
		session.Sense{Slide: "y", Went: session.Down})
	by := -0.018
	p.do(session.Bias{By: &by}, session.Undo{}, session.Bias{By: &by})
	p.until(session.ForReading).answer(1)
	p.do(session.Skip{}, session.Skip{}) // of 0°, 60°, 120°, 180°
	p.answer(1)
	p.do(session.Enough{}, session.Undo{}, session.Enough{})
	p.until(session.ForWind)
	p.do(session.Raise{Height: 30}, session.Undo{}, session.Raise{Height: 30})
	return p.until(session.ForNothing)
}

// onTable plays two settings on a rotary table whose slides are out of square and cannot be reached
// everywhere: the first wound by the collars, which teach where the slides go, the second under the needle.
func onTable(t testing.TB) *player {
	t.Helper()
	o := tableOpened(t)
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].ByCollar = true
	}
	m := practice.New(practice.BenchTable(7), 7)
	p := open(t, o, m).until(session.ForNothing)
	next := practice.BenchTable(7)
	next.Start.Swing, next.Start.CentreX, next.Start.CentreY = 42.2, -0.3, -0.25
	p.hands = practice.New(next, 8)
	p.do(session.Open{Opened: tableOpened(t)})
	return p.until(session.ForNothing)
}

// tableOpened is the setting of the practice bench with a rotary table.
func tableOpened(t testing.TB) session.Opened {
	t.Helper()
	return testdata.Setting(t, practice.TableJob, practice.TableMachine)
}

// parked plays two settings on a machine with locks and readouts: a drift that the closing reading
// shows, decided both ways, a radius held and let go, a scale told, the dial set anew, winds under the
// needle, and a second setting that begins with what the first has taught.
func parked(t testing.TB) *player {
	t.Helper()
	o := closingJob(t, nil)
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].Lock = true
		o.Machine.Slides[i].Readout = o.Machine.Slides[i].Name == "x"
	}
	p := open(t, o, &creeping{ideal: near42(0.2, 0.1, -0.05), perReading: 0.01}).until(session.ForDrift)
	p.do(session.Keep{}, session.Undo{}, session.Even{}, session.Undo{}, session.Restart{})
	w := sticky{near42(0.2, 0.1, -0.05), 0.012}
	p.hands = w
	p.do(session.Hold{Radius: 42.2, Limit: 0.01}, session.Release{}, session.At{Slide: "x", At: 23.415})
	p.until(session.ForWind).answer(1)
	p.do(session.Bezel{Showed: -0.2, Shows: 0}, session.Undo{})
	p.until(session.ForAccept)
	p.do(session.At{Slide: "offset", At: 42.25}, session.Accept{})
	p.hands = sticky{near42(-0.1, 0.05, 0.15), 0.012}
	p.do(session.Open{Opened: o})
	return p.until(session.ForNothing)
}

// misreads plays a bench whose readings are misread: doubted and read again, kept, skipped, taken
// back each time, and kept for good at last.
func misreads(t testing.TB) *player {
	t.Helper()
	p := bench(t, 7).until(session.ForReading).answer(2)
	p.slip(func(r float64) float64 { return r + 0.1 })
	p.answer(3)
	p.do(session.Keep{}, session.Undo{}, session.Skip{}, session.Undo{})
	p.until(session.ForWind).until(session.ForReading)
	p.slip(func(r float64) float64 { return r - 0.1 })
	p.answer(5)
	p.do(session.Skip{Off: session.Free})
	p.until(session.ForAccept)
	p.do(session.Restart{})
	p.answer(1)
	p.slip(func(r float64) float64 { return r + 0.1 })
	p.answer(4)
	p.do(session.Keep{}, session.Note{Text: "station 2 read three times"}, session.Restart{})
	return p.until(session.ForNothing)
}

func goldenPath(name string) string { return filepath.Join("..", "..", "testdata", "journal", name) }

// golden reads a golden journal: the file, and its lines.
func golden(t testing.TB, name string) (file []byte, lines [][]byte) {
	t.Helper()
	file, err := os.ReadFile(goldenPath(name))
	if err != nil {
		t.Fatal(err)
	}
	got, err := journal.Read(goldenPath(name))
	if err != nil || got.Err() != nil || len(got.Torn) != 0 {
		t.Fatalf("%s: %v, %v, %d bytes torn", name, err, got.Err(), len(got.Torn))
	}
	return file, got.Lines
}

func TestWriteGoldenJournals(t *testing.T) {
	for _, g := range goldens {
		_, err := os.Stat(goldenPath(g.name))
		if err == nil {
			continue
		}
		if !*writeJournals {
			t.Errorf("%v; it must not be lost", err)
			continue
		}
		write(t, goldenPath(g.name), g.play(t))
	}
}

// write puts the lines of a session into a new journal.
func write(t *testing.T, path string, p *player) {
	t.Helper()
	j, err := journal.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range p.mem.Lines {
		if err := j.Append(l); err != nil {
			t.Fatal(err)
		}
	}
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
}

// figure is what a journal's acceptance says, in the file and as it was printed when the journal
// was written. Digits that are shown may not change; the last bits may, on another processor.
type figure struct {
	trial         int
	swing, ex, ey string // mm, to 0.1 µm
}

// The golden journals open, and replay to the figures that were accepted.
func TestGoldenJournals(t *testing.T) {
	for name, want := range map[string]struct {
		events  int
		figures []figure
	}{
		"v1-practice-7.jsonl": {26, []figure{{2, "41.9973", "0.0017", "-0.0029"}}},
		"v1-parked.jsonl":     {90, []figure{{2, "42.0014", "-0.0014", "-0.0013"}, {2, "42.0007", "-0.0007", "-0.0007"}}},
		"v1-turned.jsonl":     {51, []figure{{2, "41.9978", "-0.0064", "-0.0119"}, {2, "42.0008", "0.0056", "-0.0038"}}},
		"v1-misread.jsonl":    {58, []figure{{2, "41.9969", "0.0018", "0.0038"}}},
		"v1-by-steps.jsonl":   {69, []figure{{2, "41.9790", "-0.0040", "-0.0035"}}},
		"v1-cable.jsonl":      {70, []figure{{2, "42.0000", "0.0000", "0.0000"}, {2, "42.0006", "-0.0002", "-0.0036"}}},
		"v1-plate.jsonl":      {54, []figure{{2, "42.0000", "0.0000", "0.0000"}, {2, "42.0000", "0.0000", "0.0000"}}},
		"v1-stated.jsonl":     {44, []figure{{2, "42.0000", "0.0000", "0.0000"}}},
		"v1-every-kind.jsonl": {88, []figure{{3, "41.9943", "-0.0020", "0.0012"}, {2, "42.0050", "-0.0090", "0.0052"}}},
	} {
		_, lines := golden(t, name)
		var got []figure
		s, err := session.Fold(lines, func(st session.Step) {
			a, ok := st.Event.(session.Accepted)
			if !ok {
				return
			}
			f, _ := verdicts(t, st.Before)
			// A tenth of what is shown: the fold computes the figures that the file bears witness of.
			const same = 1e-5
			if math.Abs(*a.Swing-f.Swing().V) > same || math.Abs(a.Centre[0]-f.CentreX().V) > same ||
				math.Abs(a.Centre[1]-f.CentreY().V) > same {
				t.Errorf("%s: accepted %v, %v, replayed %v, %v", name, *a.Swing, a.Centre, f.Swing().V, f.Circle.Centre)
			}
			shown := func(x float64) string { return fmt.Sprintf("%.4f", x) }
			got = append(got, figure{st.After.Trial, shown(f.Swing().V), shown(f.CentreX().V), shown(f.CentreY().V)})
		})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if s.Phase != session.Ended || s.Events != want.events || !slices.Equal(got, want.figures) {
			t.Errorf("%s: phase %d after %d events, accepted %+v, want %d events, %+v", name, s.Phase, s.Events, got, want.events,
				want.figures)
		}
	}
}

// A golden journal that was cut after any byte opens too, up to its last whole line.
func TestGoldenJournalsCut(t *testing.T) {
	for _, g := range goldens {
		file, lines := golden(t, g.name)
		last := -1
		for cut := range len(file) + 1 {
			got, err := journal.ReadFrom(bytes.NewReader(file[:cut]), "cut")
			if err != nil || got.Err() != nil {
				t.Fatalf("%s cut after byte %d: %v, %v", g.name, cut, err, got.Err())
			}
			whole := bytes.Count(file[:cut], []byte("\n"))
			wantLines(t, fmt.Sprintf("%s cut after byte %d", g.name, cut), got.Lines, lines[:whole])
			if whole == last {
				continue // the same lines as one byte earlier
			}
			last = whole
			s, err := session.Fold(got.Lines, nil)
			if err != nil || s.Events != whole {
				t.Fatalf("%s cut after byte %d: %d events (%v), want %d", g.name, cut, s.Events, err, whole)
			}
			if _, err := session.NewLive(s, &session.Memory{}).Settle(begin); err != nil {
				t.Fatalf("%s cut after byte %d: %v", g.name, cut, err)
			}
		}
	}
}

// settledAfter returns the digests of the states after 0, 1, 2 … lines, what was due done.
func settledAfter(t *testing.T, lines [][]byte) []uint64 {
	t.Helper()
	out := make([]uint64, len(lines)+1)
	for n := range out {
		s, err := session.Fold(lines[:n], nil)
		if err != nil {
			t.Fatal(err)
		}
		for e, due := session.Follow(s); due; e, due = session.Follow(s) {
			s = s.Apply(e)
		}
		out[n] = digest(s)
	}
	return out
}

// onDisk writes a session of today to a journal. What follows compares bytes, and those of a
// golden journal hold winds whose last digits are those of the day it was written.
func onDisk(t *testing.T, p *player) (file []byte, lines [][]byte) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "uncut.jsonl")
	write(t, path, p)
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return file, p.mem.Lines
}

// Power fails after any byte: every line that was whole is read, what was due is done, and the
// session stands where the uncut one stood, and ends as it did.
func TestCutAtEveryByte(t *testing.T) {
	cutEverywhere(t, bench(t, 7).until(session.ForNothing))
	cutEverywhere(t, misreads(t))
}

func cutEverywhere(t *testing.T, p *player) {
	t.Helper()
	file, lines := onDisk(t, p)
	uncut, settled := records(t, lines), settledAfter(t, lines)
	last := -1
	for cut := range len(file) + 1 {
		got, err := journal.ReadFrom(bytes.NewReader(file[:cut]), "cut")
		if err != nil || got.Err() != nil {
			t.Fatalf("cut after byte %d: %v, %v", cut, err, got.Err())
		}
		whole := bytes.Count(file[:cut], []byte("\n"))
		wantLines(t, fmt.Sprintf("cut after byte %d", cut), got.Lines, lines[:whole])
		if whole == last {
			continue // the same lines as one byte earlier, and so the same fold
		}
		last = whole
		s, err := session.Fold(got.Lines, nil)
		if err != nil {
			t.Fatalf("cut after byte %d: %v", cut, err)
		}
		l := session.NewLive(s, &session.Memory{})
		if _, err := l.Settle(uncut[max(0, whole-1)].T); err != nil {
			t.Fatalf("cut after byte %d: %v", cut, err)
		}
		if digest(l.State()) != settled[whole] {
			t.Fatalf("cut after byte %d: resumed in another state than the uncut session had", cut)
		}
		if err := goOn(t, l, uncut); err != nil {
			t.Fatalf("cut after byte %d: %v", cut, err)
		}
		wantSame(t, fmt.Sprintf("cut after byte %d, carried to its end", cut), l.State(), p.state())
	}
}

// The same on disk, where syncing every byte would take minutes: cut at the end of every line,
// one byte before, and one behind. Carried to its end, the session leaves the uncut file.
func TestResumeOnDisk(t *testing.T) {
	file, lines := onDisk(t, bench(t, 7).until(session.ForNothing))
	uncut, settled := records(t, lines), settledAfter(t, lines)
	cuts := []int{0, 1}
	for end := range file {
		if file[end] == '\n' {
			cuts = append(cuts, end, end+1, min(end+2, len(file)))
		}
	}
	for _, cut := range cuts {
		path := filepath.Join(t.TempDir(), "cut.jsonl")
		if err := os.WriteFile(path, file[:cut], 0o600); err != nil {
			t.Fatal(err)
		}
		j, _, err := journal.Open(path)
		if err != nil {
			t.Fatalf("cut after byte %d: %v", cut, err)
		}
		s, err := session.Fold(j.Lines(), nil)
		if err != nil {
			t.Fatalf("cut after byte %d: %v", cut, err)
		}
		l := session.NewLive(s, j)
		if s.Events < len(uncut) {
			if _, err := l.Settle(uncut[s.Events].T); err != nil {
				t.Fatalf("cut after byte %d: %v", cut, err)
			}
		}
		if whole := bytes.Count(file[:cut], []byte("\n")); s.Events != whole || digest(l.State()) != settled[whole] {
			t.Fatalf("cut after byte %d: resumed after %d events in another state than the uncut session had after %d", cut, s.Events,
				whole)
		}
		if cut == 0 || file[cut-1] == '\n' {
			if err := goOn(t, l, uncut); err != nil {
				t.Fatalf("cut after byte %d: %v", cut, err)
			}
			if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, file) {
				t.Fatalf("cut after byte %d: carried to its end the file is another (%v)", cut, err)
			}
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
	}
}
