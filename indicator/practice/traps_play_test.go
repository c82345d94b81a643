package practice

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// trapped is how a machine with a trap fared under hands that do as they are told and answer what they see.
type trapped struct {
	settled bool     // the session says inside, of radius and centre
	exact   []string // the figures that it says it took as exact in that
	off     [2]float64
	blamed  []string // what was said of readings that were all read as they are
	named   bool     // a statement was put in question
	put     []string // and those that were put right, by key
	grew    [2]float64
	most    float64 // that each may grow by, see mostGrown
	sweeps  int
}

// slips are what readings were accused of by name. To be asked to read one again, without a name, is no accusation: by
// design one clean sweep in a hundred is; nor is "a reading or the ring".
func (r *trapped) slips() (all []string) {
	for _, because := range r.blamed {
		if because != string(indicator.UnknownCause) && because != "form" {
			all = append(all, because)
		}
	}
	return all
}

// mostSweeps is when a hand gives up; an honest setting takes two or three.
const mostSweeps = 12

// trapPlay is a setting with a trap under way.
type trapPlay struct {
	trapped
	t     *testing.T
	m     *Machine
	live  *session.Live
	want  Want
	least *[2]float64 // off by, at the best sweep since something was put in question; nil before the next one
}

// springs lets hands set a machine with a trap.
func springs(t *testing.T, seed uint64, h Hand, o Options) trapped {
	t.Helper()
	o.byCollar = h == Collar
	d := Draw(seed, o)
	set, err := openDrawn(&d)
	if err != nil {
		t.Fatal(err)
	}
	p := trapPlay{t: t, m: New(d.World, seed), live: session.NewLive(session.State{}, nowhere{}), want: d.Want}
	p.most = max(mostGrown, 3*d.World.Noise)
	if err := p.do(session.Open{Opened: set}); err != nil {
		t.Fatal(err)
	}
	for range maxSteps {
		s := p.live.State()
		asked := s.Prompt()
		if asked.Waits == session.ForAccept {
			if p.off = p.stands(); p.settled || p.sweeps >= mostSweeps {
				return p.trapped
			}
			p.must(session.Restart{})
			continue
		}
		if p.sweeps >= 2*mostSweeps {
			return p.trapped
		}
		c, ok, err := p.m.Do(asked)
		if err != nil || !ok {
			t.Fatalf("%v, machine %d: nothing to do where %v is waited for: %v", o.Trap, seed, asked.Waits, err)
		}
		err = p.do(c)
		if refusal := (*session.Refusal)(nil); errors.As(err, &refusal) && asked.Waits == session.ForWind {
			p.refused(refusal, asked.Wind.Slide.Name)
		} else if err != nil {
			t.Fatalf("%v, machine %d: %v", o.Trap, seed, err)
		}
	}
	t.Errorf("%v, machine %d: no end", o.Trap, seed)
	return p.trapped
}

// stands is how far the machine truly stands from where it is wanted, mm: the swing radius, and the centre.
func (p *trapPlay) stands() [2]float64 {
	swing, centre := p.want.offBy(p.m.Truth())
	return [2]float64{swing, centre}
}

func (p *trapPlay) must(c session.Command) {
	p.t.Helper()
	if err := p.do(c); err != nil {
		p.t.Fatalf("%+v: %v", c, err)
	}
}

// refused: the needle went the other way as a slide was wound. The hand checks the signs that it is told to, and puts
// right what is left; where none is in question any more, the wind stands as it is.
func (p *trapPlay) refused(why *session.Refusal, slide string) {
	p.t.Helper()
	if !strings.Contains(why.Hint, "stated wrong") {
		p.must(session.Confirm{})
		return
	}
	p.named = true
	s := p.live.State()
	for _, name := range slices.Concat([]string{slide}, s.Set.Job.Needs()) {
		s := p.live.State()
		c, err := p.m.Sense(&s, name)
		if err != nil {
			p.t.Fatal(err)
		}
		p.must(c)
		if p.restate() { // one statement is left
			return
		}
	}
	s = p.live.State()
	if s.Prompt().Waits == session.ForWind { // all is as stated, and the wind stands
		p.must(session.Confirm{})
	}
}

// restate puts right what is in question, and reports whether that was one statement.
func (p *trapPlay) restate() bool {
	c, err := session.Parse("restate", geom.Millimetre)
	return err == nil && p.do(c) == nil
}

// do carries a command out, and notes what is said.
func (p *trapPlay) do(c session.Command) error {
	steps, err := p.live.Do(c, time.Time{})
	for _, st := range steps {
		switch e := st.Event.(type) {
		case session.Doubted:
			p.blamed = append(p.blamed, string(e.Because))
		case session.Settled:
			p.settled = proves(e)
		case session.Swept:
			p.sweeps++
			p.compare()
		case session.Sensed: // the check itself moves a slide, by no more than its play
			p.least = nil
		}
		p.hear(st)
	}
	return err
}

// compare notes by how much the machine stands worse at this sweep than at the best since the accusation.
func (p *trapPlay) compare() {
	now := p.stands()
	if p.named && p.least != nil {
		for i := range now {
			p.grew[i] = max(p.grew[i], now[i]-p.least[i])
			now[i] = min(now[i], p.least[i])
		}
	}
	p.least = &now
}

// hear takes from the lines what the session says of it in words that scripts read.
func (p *trapPlay) hear(st session.Step) {
	p.t.Helper()
	for _, l := range lines.Of(st, geom.Millimetre) {
		text, err := json.Marshal(l)
		if err != nil {
			p.t.Fatal(err)
		}
		var said struct {
			Say, Key string
			Exact    []string `json:"assumed_exact"`
		}
		if err := json.Unmarshal(text, &said); err != nil {
			p.t.Fatal(err)
		}
		switch said.Say {
		case "suspect":
			p.named = true
		case "restated":
			p.put = append(p.put, said.Key)
		case "settled":
			p.exact = said.Exact
		}
	}
}

// offBy is how far a machine stands from where it is wanted, mm: the swing radius either way, and the centre.
func (w Want) offBy(t Truth) (swing, centre float64) {
	return max(t.Swing-w.Swing, w.Swing-t.Swing), geom.Point{X: t.CentreX, Y: t.CentreY}.Norm()
}

// trapRuns is on how many machines each trap is laid, with each hand, head and table. Four are for every run;
// TRAMMEL_TRAPS=200 go test ./indicator/practice -run '^TestTrap' -timeout 30m has two hundred.
func trapRuns(t *testing.T) uint64 {
	t.Helper()
	text := os.Getenv("TRAMMEL_TRAPS")
	if text == "" {
		return 4
	}
	n, err := strconv.ParseUint(text, 10, 32)
	if err != nil || n < 1 {
		t.Fatalf("TRAMMEL_TRAPS is %q, need a whole number above 0", text)
	}
	return n
}

// eachTrapped has every such machine set, and each outcome judged. Most settle: what settles nothing shows nothing.
func eachTrapped(t *testing.T, judge func(t *testing.T, turned bool, trap Trap, what string, r trapped), traps ...Trap) {
	runs := trapRuns(t)
	for _, trap := range traps {
		for _, turned := range []bool{false, true} {
			for _, h := range []Hand{Parked, Collar} {
				t.Run(fmt.Sprintf("%v, turned %v, %v", trap, turned, h), func(t *testing.T) {
					t.Parallel()
					settled, blamed, sweeps := uint64(0), 0, 0
					for seed := uint64(1); seed <= runs; seed++ {
						r := springs(t, seed, h, Options{Turned: turned, Trap: trap})
						judge(t, turned, trap, fmt.Sprintf("machine %d", seed), r)
						if r.settled {
							settled++
						}
						sweeps += r.sweeps
						if s := r.slips(); len(s) > 0 {
							t.Logf("machine %d: readings are said to be slips (%q), and are none", seed, s)
							blamed++
						}
					}
					if blamed*100 > sweeps {
						t.Errorf("in %d of %d sweeps hands are blamed for a slip that they did not make, need one in a hundred at most", blamed, sweeps)
					}
					t.Logf("%d of %d settled", settled, runs)
					if settled*2 < runs {
						t.Errorf("%d of %d settled, need half of them to show anything", settled, runs)
					}
				})
			}
		}
	}
}

// Of a reach that is off, and of a reference that is not round, nothing is settled as inside unless it is, or the figure is
// named on which that leans; no more readings are called a slip, for all are read as they are, than chance makes of clean
// ones (one sweep in a hundred by design; such a reading is read again, and stands); and no statement but the one that is
// wrong is put right.
func TestTrapsSettleWithTheirIf(t *testing.T) {
	leans := map[string]string{"reach": "reach", "oval": "reference_form", "three-lobed": "reference_form"}
	eachTrapped(t, func(t *testing.T, _ bool, trap Trap, what string, r trapped) {
		within := r.off[0] <= drawTolerance && r.off[1] <= drawTolerance
		if r.settled && !within && !slices.Contains(r.exact, leans[trap.String()]) {
			t.Errorf("%s: settled inside, truly off by %.4f, if %q", what, r.off, r.exact)
		}
		if len(r.put) > 0 {
			t.Errorf("%s: %q put right, and was not wrong", what, r.put)
		}
	}, ReachTrap, OvalTrap, ThreeLobedTrap)
}

// mostGrown is by how much a setting may be worse at a sweep than it has been since the accusation, mm: what a hand's
// collar, its needle and the angles leave, half a tolerance; or three standard deviations of a reading, where a needle is
// so restless that its own stop leaves more.
const mostGrown = 0.01

// A handle that is stated wrong is put right in the session, which then settles truly within, and neither radius nor
// centre is worse at any sweep after the accusation than before.
func TestTrapHandlesArePutRight(t *testing.T) {
	slides := map[string]int{"offset-handle": 0, "x-handle": 1, "y-handle": 2}
	var never, all atomic.Int64
	t.Cleanup(func() {
		t.Logf("of %d machines %d came to their goal without that handle", all.Load(), never.Load())
		if never.Load()*10 > all.Load() {
			t.Errorf("%d of %d machines never needed the handle, which shows nothing", never.Load(), all.Load())
		}
	})
	eachTrapped(t, func(t *testing.T, turned bool, trap Trap, what string, r trapped) {
		all.Add(1)
		key := "slide." + slideNames(turned)[slides[trap.String()]] + ".clockwise"
		if !r.named && len(r.put) == 0 { // no wind of it was told that could go astray: what follows holds all the same
			never.Add(1)
		} else if !slices.Equal(r.put, []string{key}) {
			t.Errorf("%s: %q put right, want %s (in question: %v)", what, r.put, key, r.named)
		}
		if !r.settled || r.off[0] > drawTolerance || r.off[1] > drawTolerance {
			t.Errorf("%s: settled %v in %d sweeps, truly off by %.4f", what, r.settled, r.sweeps, r.off)
		}
		if r.grew[0] > r.most || r.grew[1] > r.most {
			t.Errorf("%s: radius and centre grew by %.4f after the accusation", what, r.grew)
		}
	}, OffsetHandleTrap, XHandleTrap, YHandleTrap)
}
