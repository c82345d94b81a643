package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"sync"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// gaugeSource is where an indicator's bytes come from.
type gaugeSource struct {
	// open opens it by its name, and anew once it has gone. Close ends a Read that waits.
	open func() (io.ReadCloser, error)
	// midway says that it may be sending already where it is opened.
	midway bool
	// bySending says that it can be opened though nobody sends: it is found again only once something comes.
	bySending bool
	// ends says that something ends with it, so that it is closed even where a signal ends the program.
	ends bool
	// keeps says that what is sent waits while nobody reads it.
	keeps bool
	// because says why a Read of it failed.
	because func(error) error
}

// gaugeSources make the source of a name, or say why there is none here.
var gaugeSources = map[gauge.Kind]func(w world, name string, s *gauge.Settings) gaugeSource{
	gauge.SerialLine: serialSource, gauge.Program: programSource, gauge.Pipe: pipeSource,
}

// withoutGauge goes without the indicator that the machine's file names.
const withoutGauge = "none"

// checkGauge refuses a source that is none.
func checkGauge(spec string) error {
	if spec == "" || spec == withoutGauge {
		return nil
	}
	if _, _, err := gauge.ParseSource(spec); err != nil {
		return misuse("--gauge %v, or %s", err, withoutGauge)
	}
	return nil
}

// feed is an indicator's line, which is read beside everything else.
type feed struct {
	name   string // as it was stated
	source gaugeSource
	reader *gauge.Reader
	asides asides // what is said of it beside a screen; nil where that is written

	in   chan fed
	done chan struct{}
	over sync.WaitGroup

	still stillness

	mu    sync.Mutex
	now   io.ReadCloser // nil where it is gone
	ended bool
}

// fed is what has happened on the line: bytes came, it is gone, it is found again (first), what came before them was thrown away.
type fed struct {
	found bool
	stood bool
	bytes []byte
	at    time.Time
	lost  error // errDone where it is for good
}

// forGood says that the line is lost and is not tried again.
func (f *fed) forGood() bool { return errors.Is(f.lost, errDone) }

// begins says that another stream begins with it.
func (f *fed) begins() bool { return f.lost != nil || f.found || f.stood }

const (
	feedBytes  = 4096
	reopenWait = time.Second
	mostWait   = time.Minute
	stays      = 10 * time.Second // a line that is there for so long is no broken one
)

// openGauge opens the indicator that the command line or the machine's file names; nil for none.
func openGauge(w world, f *dialFlags, set *session.Opened) (*feed, error) {
	if f.gauge == withoutGauge {
		return nil, nil
	}
	s := gaugeSettings(w, f, set)
	s.DialFalls, s.Most, s.Division = set.Job.Dial.Falls, set.Job.Dial.Farthest(), set.Job.Dial.Graduation
	if f.gauge != "" {
		s.Source = f.gauge
	}
	if s.Source == "" {
		return nil, nil
	}
	if err := checkWithin(w, &s, set); err != nil {
		return nil, err
	}
	reader, err := gauge.NewReader(s, set.Job.Unit)
	if err != nil {
		return nil, err
	}
	g, err := startFeed(w, &s, f.screen)
	if err != nil {
		return nil, orWithout(err)
	}
	g.reader = reader
	reader.Begin(g.source.midway)
	return g, nil
}

// checkWithin refuses a band that the dial shows to be none; where nobody has stated it, that is said.
func checkWithin(w world, s *gauge.Settings, set *session.Opened) error {
	usual, err := s.CheckWithin(set.Job.Unit)
	within := (*gauge.WithinError)(nil)
	if !errors.As(err, &within) {
		return nil
	}
	if usual {
		fmt.Fprintf(w.err, "trammel: %v\ntrammel: hint: %s\n", within, within.Hint())
		return nil
	}
	return orWithout(withHint(within, "%s", within.Hint()))
}

// orWithout says besides how a session goes on without an indicator that cannot be opened.
func orWithout(err error) error {
	without := "trammel dial --gauge " + withoutGauge + " goes on without it"
	if h := (*hinted)(nil); errors.As(err, &h) {
		without = h.hint + "; " + without
	}
	return withHint(err, "%s", without)
}

// startFeed opens what is stated, and begins to hand over what comes; beside a screen nothing of it is written.
func startFeed(w world, s *gauge.Settings, screen bool) (*feed, error) {
	kind, name, err := gauge.ParseSource(s.Source)
	if err != nil {
		return nil, err
	}
	g := &feed{name: s.Source}
	if screen {
		g.asides = make(asides, mostAsides)
		w.err = g.asides
	}
	g.source = gaugeSources[kind](w, name, s)
	if err := g.begin(w); err != nil {
		return nil, err
	}
	if g.source.ends && !screen { // a screen ends by itself, and puts its terminal back
		g.over.Go(g.endWithProgram)
	}
	return g, nil
}

// begin opens the line, and reads it from then on.
func (g *feed) begin(w world) (err error) {
	if g.now, err = g.source.open(); err != nil {
		return err
	}
	g.in, g.done = make(chan fed), make(chan struct{})
	g.over.Go(func() { g.run(w) })
	if g.source.keeps {
		g.still.passed(time.Now())
		g.over.Go(g.beats)
	}
	return nil
}

// gaugeSettings are what the machine's file states of its indicator: the file as it is now, for a plug that has changed is no
// reason for a new setting. One that is resumed may have been opened from another folder.
func gaugeSettings(w world, f *dialFlags, set *session.Opened) gauge.Settings {
	file := f.machine
	if file == "" && len(set.Files) >= 2 {
		file = set.Files[1].Name
	}
	text, err := readPlain(file, mostKept) // a journal may name anything
	var s gauge.Settings
	if err == nil {
		s, err = job.ParseGauge(file, text)
	}
	if err == nil {
		return s
	}
	if f.gauge != "" {
		fmt.Fprintf(w.err, "trammel: hint: %s; the cable indicator is read by the usual settings\n", printable(err.Error()))
	}
	return gauge.Usual()
}

// run hands over what comes, until the feed is ended.
func (g *feed) run(w world) {
	buf := make([]byte, feedBytes)
	found := false
	pause, since := time.Duration(0), time.Now()
	for {
		r := g.current()
		if r == nil {
			return
		}
		n, err := r.Read(buf)
		if came, stood := g.fresh(w, buf[:n]); len(came) > 0 {
			if !g.send(fed{found: found, stood: stood, bytes: came, at: w.now()}) {
				return
			}
			found = false
		}
		if err == nil {
			continue
		}
		if errors.Is(err, errDone) { // nothing of it is left, whoever has its number by the end
			g.close()
		}
		// What was found again and never sent was not said to be found.
		if !found && !g.send(fed{lost: g.source.because(err)}) {
			return
		}
		pause = pauseBehind(pause, time.Since(since))
		if errors.Is(err, errDone) || !g.again(pause) {
			return
		}
		since = time.Now()
		if found = g.source.bySending; !found && !g.send(fed{found: true, at: w.now()}) {
			return
		}
	}
}

func (g *feed) current() io.ReadCloser {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.now
}

func (g *feed) send(f fed) bool {
	select {
	case g.in <- f:
		return true
	case <-g.done:
		return false
	}
}

// pauseBehind is how long a line is left alone that was there for so long: ever longer, where each time it is gone at once.
func pauseBehind(before, there time.Duration) time.Duration {
	if there >= stays {
		return reopenWait
	}
	return min(max(reopenWait, 2*before), mostWait)
}

// again opens the line anew by its name behind a pause, as often as it takes; false where the feed is ended.
func (g *feed) again(pause time.Duration) bool {
	g.close()
	for ; ; pause = reopenWait {
		select {
		case <-g.done:
			return false
		case <-time.After(pause):
		}
		r, err := g.source.open()
		if err != nil {
			continue
		}
		g.mu.Lock()
		if !g.ended {
			g.now = r
		}
		ended := g.ended
		g.mu.Unlock()
		if ended {
			_ = r.Close()
		}
		return !ended
	}
}

// close lets go of the line. What it has to say then is nobody's business any more.
func (g *feed) close() {
	g.mu.Lock()
	r := g.now
	g.now = nil
	g.mu.Unlock()
	if r != nil {
		_ = r.Close()
	}
}

// end ends the feed with all that belongs to it.
func (g *feed) end() {
	if g == nil {
		return
	}
	g.mu.Lock()
	g.ended = true
	g.mu.Unlock()
	close(g.done)
	g.close()
	g.over.Wait()
}

// ails is what is to be said once of a line that is there: that the needle does not come to rest, that nothing comes any more, and
// that something does again.
func (g *feed) ails(now time.Time, u geom.Unit) (out []lines.Line) {
	if r := g.reader.Restless(now); r != nil {
		out = append(out, lines.GaugeRestless(r, u))
	}
	switch silent, back := g.reader.Silence(now); {
	case silent > 0:
		out = append(out, lines.GaugeSilent(silent))
	case back:
		out = append(out, lines.GaugeFound())
	}
	return out
}

// endWithProgram ends what belongs to the feed where a signal ends the program, which is then ended as by itself.
func (g *feed) endWithProgram() {
	sent := make(chan os.Signal, 1)
	for _, s := range leaving {
		if !signal.Ignored(s) {
			signal.Notify(sent, s)
		}
	}
	defer signal.Stop(sent)
	select {
	case <-g.done:
	case s := <-sent:
		g.close()
		dieBy(s)
	}
}
