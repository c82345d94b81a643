package tui_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/muesli/termenv"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/report"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
)

// simulations are the benches of the set-ups that there are.
var simulations = []practice.Setup{practice.Carried, practice.Turned, practice.Taps, practice.SetOff, practice.Points, practice.About,
	practice.AboutTable}

// radiusFirst is a mover that only this test has: the offset slide goes before the cross slides. It says what one takes.
type radiusFirst struct{ setup.Mover }

func (radiusFirst) Needs(*setup.Job) []string { return []string{"offset", "x", "y"} }

// trialTolerance marks the jobs of the trial set-up.
const trialTolerance = 0.0199

// carried is the usual set-up, which the trial one differs from.
var carried = setup.Of(&setup.Job{Setup: indicator.Setup{Kind: indicator.Carried}})

// trial is its row.
var trial = &setup.SetUp{Ground: carried.Ground, Mover: radiusFirst{carried.Mover},
	Is: func(j *setup.Job) bool { return j.Target.Tolerance == trialTolerance },
	Words: setup.Words{Name: "radius first", Swung: "head",
		Steps: func(p *setup.Phrases) []string {
			return []string{"1  tip pressing " + p.Press, "2  the radius goes first"}
		}},
}

// Every set-up of the table is played by keys on its bench, and goes through whatever tells of a setting: lines and their
// text, the replay, the screens at three sizes, the report, and the journal, which says the same again.
func TestEverySetUpIsTold(t *testing.T) {
	seen := map[string]int{}
	for _, c := range simulations {
		job, machine := c.Files()
		o := testdata.Setting(t, job, machine)
		o.Job.Setup.Taps = setup.Taps(&o.Job, &o.Machine)
		u := setup.Of(&o.Job)
		seen[strings.Join(u.Steps(&setup.Phrases{}), "\n")]++
		walk(t, u, o, c, 1)
	}
	for _, u := range setup.All {
		if n := seen[strings.Join(u.Steps(&setup.Phrases{}), "\n")]; n != 1 {
			t.Errorf("%d benches play a set-up %s, need one: it would go untold", n, u.Name)
		}
	}
}

// A set-up that is one file and one row, here, goes through all of that as well; its winds come in its own order, its words
// are its own, and the centre is brought in.
func TestTrialSetUp(t *testing.T) {
	was := setup.All
	defer func() { setup.All = was }()
	setup.All = append([]*setup.SetUp{trial}, was...)
	o := testdata.Setting(t, practice.BenchJob, practice.BenchMachine)
	o.Job.Target.Tolerance = trialTolerance
	for seed := uint64(1); seed <= 3; seed++ {
		d := walk(t, trial, o, practice.Carried, seed)
		var wound, loaded []string
		for _, st := range stepsOf(t, d) {
			switch e := st.Event.(type) {
			case session.Loaded:
				loaded = append(loaded, e.Slide)
			case session.Told:
				if st.After.Trial == 1 {
					wound = append(wound, e.Wind.Slide)
				}
			}
		}
		if !slices.Equal(loaded, []string{"offset", "x", "y"}) || len(wound) == 0 || wound[0] != "offset" {
			t.Errorf("machine %d: loaded %v, wound %v; want the offset slide first", seed, loaded, wound)
		}
	}
}

// walk plays a set-up to its accepted setting, and looks at all that is told of it.
func walk(t *testing.T, u *setup.SetUp, o session.Opened, c practice.Setup, seed uint64) *driver {
	t.Helper()
	m := practice.New(c.Bench(seed), seed)
	d := screen(t, options{opened: o, seed: seed, bench: m, colour: termenv.Ascii})
	for n := 0; n < 200 && !ended(d); n++ {
		for _, size := range [][2]int{{58, 20}, {120, 40}, {80, 24}} {
			d.Size(size[0], size[1]).Fits(size[0], size[1])
		}
		if n == 0 && !strings.Contains(d.Size(120, 40).Screen(), u.Name) {
			t.Errorf("%s: the screen does not say what is set up:\n%s", u.Name, d.Screen())
		}
		switch d.prompt().Waits {
		case session.ForReading:
			d.Type("d")
		case session.ForAccept:
			d.Type("a").Enter()
		default:
			d.Enter()
		}
	}
	s := d.state()
	if !ended(d) {
		t.Fatalf("%s: it waits for %v after 200 keys", u.Name, d.prompt().Waits)
	}
	got, want := m.Truth(), 0.0
	if s.Set.Job.Target.WantsSwing() && !s.Set.Job.SweepsSwing() { // it has been carried off
		want = s.Set.Job.Target.SwingRadius
	}
	if off := math.Hypot(got.CentreX, got.CentreY); math.Abs(off-want) > 0.02 {
		t.Errorf("%s: the centre truly lies %.4f off, want %v", u.Name, off, want)
	}
	told(t, u, d)
	lastPage(t, u, d)
	return d
}

// lastPage holds the page of what was reached to its figures at every size, on as many leaves as it takes, none of them cut.
func lastPage(t *testing.T, u *setup.SetUp, d *driver) {
	t.Helper()
	s := d.state()
	want := []string{"practice machine", fmt.Sprintf("accepted in trial %d", s.Trial), "inside", "mm", "Enter leaves",
		"/ takes back the accepted setting", "no journal is kept"}
	for _, size := range [][2]int{{20, 5}, {40, 10}, {40, 14}, {58, 20}, {80, 24}, {120, 40}, {200, 60}} {
		at := *d
		at.Size(size[0], size[1])
		all, leaves := "", 0
		for ; !at.quit && leaves < 60; leaves++ {
			rows := strings.Split(at.Screen(), "\n")
			if size[1] >= 14 {
				rows = rows[2:]
			}
			for _, r := range rows {
				r = strings.TrimSpace(r)
				keys := strings.HasPrefix(r, "Enter ") && strings.Contains(r, " ·")
				if keys || strings.HasPrefix(r, "page ") || strings.HasPrefix(r, "──") {
					break
				}
				all += r + " "
			}
			at.Enter()
		}
		if !at.quit || strings.Contains(all, "…") {
			t.Errorf("%s, %v: %d leaves, left %v, or something is cut:\n%s", u.Name, size, leaves, at.quit, all)
		}
		for _, w := range want {
			if !strings.Contains(all, w) {
				t.Errorf("%s, %v: %q is on none of %d leaves:\n%s", u.Name, size, w, leaves, all)
			}
		}
	}
}

// stepsOf are those of the journal.
func stepsOf(t *testing.T, d *driver) (all []session.Step) {
	t.Helper()
	if _, err := session.Fold(d.mem.Lines, func(st session.Step) { all = append(all, st) }); err != nil {
		t.Fatal(err)
	}
	return all
}

// told looks at lines, replay, report and journal.
func told(t *testing.T, u *setup.SetUp, d *driver) {
	t.Helper()
	s := d.state()
	var records []session.Record
	for i, st := range stepsOf(t, d) {
		if words := lines.Happened(st, geom.Millimetre); words == "" {
			t.Errorf("%s, event %d: %s happened without a word", u.Name, i+1, session.Kind(st.Event))
		}
		for _, l := range lines.Of(st, geom.Millimetre) {
			if text := l.Text(); text == "" || strings.Contains(text, "%!") {
				t.Errorf("%s, event %d: said %q", u.Name, i+1, text)
			}
		}
		records = append(records, session.Record{V: session.Version, N: i + 1, T: time.Unix(int64(i), 0), Event: st.Event})
	}
	told := lines.Setup(&s, geom.Millimetre)
	n := len(u.Steps(&setup.Phrases{}))
	if len(told.Steps) < n+2 || told.Steps[0] != lines.SafeWords || told.Steps[len(told.Steps)-1] != lines.DeferWords {
		t.Errorf("%s: steps %q, want its %d between the usual cautions", u.Name, told.Steps, n)
	}
	r := report.New("walk", records, func(u geom.Unit) geom.Unit { return u })
	if text := r.Text(); !strings.Contains(text, u.Name) || !strings.Contains(text, "accepted") {
		t.Errorf("%s: the report does not say what was set up, or that it was accepted:\n%s", u.Name, text)
	}
	f, err := s.Fit()
	if err != nil {
		t.Fatal(err)
	}
	if v := s.Verdicts(&f); v.Centre != indicator.Inside || s.Set.Job.Target.WantsSwing() && v.Radius != indicator.Inside {
		t.Errorf("%s: accepted with %+v", u.Name, v)
	}
	lines.SenseAsk(&s, s.NextSense())
	lines.SuspectWords(&s, geom.Millimetre)
}
