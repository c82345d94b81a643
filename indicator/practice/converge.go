package practice

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"time"

	"example.org/trammel/indicator/session"
)

// Outcome is what one setting came to.
type Outcome struct {
	Accepted bool // before it was given up
	Within   bool // and then it truly stands where it is wanted
	Trials   int  // sweeps, and the winds that followed each
	Readings int  // places visited to read, those with the needle off the dial and those between two winds included
	Parked   int  // readings told after a wind under the needle
	Winds    int
	Taps     int // of the work into place, which are no winds
}

// mostTrials is where a setting is given up.
const mostTrials = 40

// Spread is how a count is distributed over many settings.
type Spread struct {
	Mean  float64 `json:"mean"`
	P50   int     `json:"p50"`
	P95   int     `json:"p95"`
	Worst int     `json:"worst"`
}

// spreadOf takes the quantiles at the nearest rank: p of all are no larger.
func spreadOf(all []int) Spread {
	n := len(all)
	if n == 0 {
		return Spread{}
	}
	all = slices.Clone(all)
	slices.Sort(all)
	sum := 0
	for _, v := range all {
		sum += v
	}
	rank := func(percent int) int { return all[(n*percent+99)/100-1] }
	return Spread{Mean: float64(sum) / float64(n), P50: rank(50), P95: rank(95), Worst: all[n-1]}
}

// Summary is what many settings came to. TrulyWithin counts the accepted ones that truly stand where
// they are wanted; the spreads are over all, those that were given up included.
type Summary struct {
	Runs           int    `json:"runs"`
	Hand           string `json:"hand"`
	Setup          string `json:"setup,omitempty"` // turned; left out where the head is swung
	Trap           string `json:"trap,omitempty"`  // left out where there is none
	Settled        int    `json:"settled"`
	TrulyWithin    int    `json:"truly_within"`
	Trials         Spread `json:"trials"`
	Readings       Spread `json:"readings"`
	ParkedReadings Spread `json:"parked_readings"`
	Winds          Spread `json:"winds"`
	// Taps is how often the work was tapped; nil where slides carry it.
	Taps *Spread `json:"taps,omitempty"`
}

// Summarize counts up what one hand's settings came to.
func Summarize(h Hand, all []Outcome) Summary {
	s := Summary{Runs: len(all), Hand: h.String()}
	count := func(of func(Outcome) int) Spread {
		out := make([]int, len(all))
		for i, o := range all {
			out[i] = of(o)
		}
		return spreadOf(out)
	}
	for _, o := range all {
		if o.Accepted {
			s.Settled++
		}
		if o.Accepted && o.Within {
			s.TrulyWithin++
		}
	}
	s.Trials = count(func(o Outcome) int { return o.Trials })
	s.Readings = count(func(o Outcome) int { return o.Readings })
	s.ParkedReadings = count(func(o Outcome) int { return o.Parked })
	s.Winds = count(func(o Outcome) int { return o.Winds })
	if taps := count(func(o Outcome) int { return o.Taps }); taps.Worst > 0 {
		s.Taps = &taps
	}
	return s
}

// Converge lets a hand set the drawn machines of so many seeds, from first on, side by side. open
// reads a machine's files. What comes out does not depend on how the settings are scheduled.
func Converge(runs int, first uint64, h Hand, o Options, open func(*Drawn) (session.Opened, error)) ([]Outcome, error) {
	out, errs := make([]Outcome, runs), make([]error, runs)
	next := make(chan int)
	var all sync.WaitGroup
	for range min(runs, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for i := range next {
				seed := first + uint64(i)
				if out[i], errs[i] = setMachine(seed, h, o, open); errs[i] != nil {
					errs[i] = fmt.Errorf("machine %d: %w", seed, errs[i])
				}
			}
		})
	}
	for i := range runs {
		next <- i
	}
	close(next)
	all.Wait()
	for _, err := range errs { // the first of them, not the soonest
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// setMachine lets a hand set the drawn machine of a seed.
func setMachine(seed uint64, h Hand, o Options, open func(*Drawn) (session.Opened, error)) (Outcome, error) {
	o.byCollar = h == Collar
	d := Draw(seed, o)
	if h == TwoPoint {
		return twoPoint(&d, seed)
	}
	return d.set(seed, open)
}

// set plays the machine's session through; how it is wound, the machine's file says.
func (d *Drawn) set(seed uint64, open func(*Drawn) (session.Opened, error)) (Outcome, error) {
	set, err := open(d)
	if err != nil {
		return Outcome{}, err
	}
	s := setting{m: New(d.World, seed), live: session.NewLive(session.State{}, nowhere{})}
	if err := s.do(session.Open{Opened: set}); err != nil {
		return Outcome{}, err
	}
	if err := s.play(); err != nil {
		return s.out, err
	}
	for n := 1; n < d.settings && s.out.Accepted; n++ {
		if err := s.next(set, stream(seed, streamNext+uint64(n))); err != nil {
			return s.out, err
		}
	}
	if s.out.Accepted {
		s.m.lockRest()
		s.out.Within = d.Want.met(s.m.Truth())
	}
	return s.out, nil
}

// next opens every clamp, winds the slides somewhere else, each brought up its take-up way as before, and
// makes the same setting again; what the machine has taught so far is carried over.
func (s *setting) next(set session.Opened, chance *rand.Rand) error {
	for _, name := range s.m.names() {
		if err := s.m.unlockSlide(name); err != nil {
			return err
		}
		sl, _ := set.Machine.Slide(name)
		away := map[string]float64{"offset": drawSwingOff}[name]
		if away == 0 {
			away = drawCentreOff / math.Sqrt2
		}
		if err := s.m.Turn(name, moves(sl.Wind(away*(2*chance.Float64()-1)).Moves)...); err != nil {
			return err
		}
	}
	s.out, s.proven = Outcome{}, false
	if err := s.do(session.Open{Opened: set}); err != nil {
		return err
	}
	return s.play()
}

// nowhere is an appender that keeps nothing.
type nowhere struct{}

func (nowhere) Append([]byte) error { return nil }

// setting is one job under simulated hands that the session tells what to do.
type setting struct {
	m      *Machine
	live   *session.Live
	loads  []session.Prompt // as they were told
	proven bool             // when it settled last
	out    Outcome
}

func (s *setting) play() error {
	for s.out.Trials < mostTrials {
		st := s.live.State()
		p := st.Prompt()
		var c session.Command
		var err error
		ok := true
		switch {
		case p.Waits == session.ForAgain:
			c, err = session.Restart{}, s.rough()
		case p.Waits == session.ForBack && len(p.Back.Winds) == 0:
			c, err = session.Confirm{}, s.m.rough() // and the loads are asked for again
			s.out.Trials, s.out.Winds = s.out.Trials+1, s.out.Winds+roughWinds
		case p.Waits == session.ForAccept && !s.proven:
			c = session.Restart{}
		default:
			c, ok, err = s.m.Do(p)
		}
		if err != nil {
			return err
		}
		if !ok {
			s.out.Accepted = st.Accepted()
			return nil
		}
		if p.Waits == session.ForLoad {
			s.loads = append(s.loads, p)
		}
		err = s.do(c)
		if refusal := (*session.Refusal)(nil); errors.As(err, &refusal) && p.Waits == session.ForWind {
			err = s.do(session.Confirm{}) // the needle stopped too far from its goal to be a reading
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// rough is what a machinist does where fewer than three of all the stations that he was asked for could
// be read: the session cannot say anything yet, so he roughs in by eye, loads the slides again and
// begins the sweep anew. It counts as a trial.
func (s *setting) rough() error {
	s.out.Trials++
	if err := s.m.rough(); err != nil {
		return err
	}
	s.out.Winds += roughWinds
	for _, p := range s.loads {
		if _, _, err := s.m.Do(p); err != nil {
			return err
		}
	}
	return nil
}

// do carries out one command, and counts what came of it.
func (s *setting) do(c session.Command) error {
	steps, err := s.live.Do(c, time.Time{})
	for _, st := range steps {
		switch e := st.Event.(type) {
		case session.Took, session.Skipped, session.Looked:
			s.out.Readings++
		case session.Swept:
			s.out.Trials++
		case session.Wound:
			if st.Before.Told != nil && st.Before.Told.Tap != nil {
				s.out.Taps++
				continue
			}
			s.out.Winds++
			if e.Reading != nil {
				s.out.Parked++
			}
		case session.Settled:
			s.proven = proves(e)
		}
	}
	return err
}

// proves reports whether all that the job asks for is inside: the hand accepts nothing else, and
// sweeps again.
func proves(e session.Settled) bool {
	for _, word := range []string{e.Radius.String(), e.Centre.String()} {
		if word != "inside" && word != "none" {
			return false
		}
	}
	return true
}
