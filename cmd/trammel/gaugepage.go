package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/job"
	"example.org/trammel/tui"
)

// gaugeOnScreen sets a cable indicator up on a page, until that is kept or left.
func gaugeOnScreen(w world, c *common, f *gaugeFlags, t *gaugeTrial) error {
	kept := false
	err := onScreen(w, &f.manner, func(w world) error {
		screen := w.screen
		if t.set.Source == "" {
			if err := t.pickSource(w, f); err != nil || t.set.Source == "" {
				return err
			}
		}
		try, err := gauge.NewTrying(t.set, t.unit)
		if err != nil {
			return err
		}
		lines := &gaugeOpener{w: w}
		defer lines.end()
		t.set, kept, err = tui.SetUpGauge(screen.ctx, tui.GaugeConfig{Try: try, Open: lines.open, Ports: serialPorts, Changes: t.changes,
			Now: w.now, Plain: f.plainly(w), In: screen.in, Out: screen.out, Shell: screen.shell})
		return err
	})
	if err != nil || !kept {
		return errors.Join(err, leftGauge(w))
	}
	return t.keep(w, c, t.set)
}

// pickSource asks for the line; it stays empty where the page is left.
func (t *gaugeTrial) pickSource(w world, f *gaugeFlags) error {
	screen, wrong := w.screen, []string(nil)
	for {
		ports := serialPorts()
		page := tui.OpenConfig{Title: sourceQuestion(ports).Text, Answers: ports, Takes: "the first", Leaves: "leave",
			Names: true, Said: wrong,
			Alarm: wrong != nil, Now: w.now, Plain: f.plainly(w), In: screen.in, Out: screen.out, Shell: screen.shell,
			Topics: helpTopics()}
		if len(ports) == 0 {
			page.Answers, page.Takes = []string{"look again"}, "look again"
		}
		n, name, err := tui.Pick(screen.ctx, page)
		switch {
		case err != nil || n == 0 && name == "":
			return err
		case name != "":
			if t.set.Source, err = pickSource(ports, name); err == nil {
				return nil
			}
			wrong = []string{err.Error()}
		case n <= len(ports):
			t.set.Source, err = gauge.PickSource(ports, fmt.Sprint(n))
			return err
		}
	}
}

// changes says what keeping some settings does, with what is written.
func (t *gaugeTrial) changes(s gauge.Settings) (does string, read []string, err error) {
	s = wholeSource(s)
	if t.file == "" {
		text := strings.TrimRight(job.GaugeText(s, t.unit), "\n")
		read = append([]string{"no machine is named; this goes into a machine's file:"}, strings.Split(text, "\n")...)
		return "end, and show this once more", read, nil
	}
	_, all, err := job.EditGauge(t.file, t.text, s)
	if err != nil || len(all) == 0 {
		return "", nil, err
	}
	for _, c := range all {
		switch {
		case c.Was == "":
			read = append(read, fmt.Sprintf("%s = %s is new", c.Key, c.Is))
		case c.Is == "":
			read = append(read, fmt.Sprintf("%s is taken out; it was %s", c.Key, c.Was))
		default:
			read = append(read, fmt.Sprintf("%s = %s; it was %s", c.Key, c.Is, c.Was))
		}
	}
	return "write it", slices.Insert(read, 0, "into "+t.file+":"), nil
}

// gaugeOpener opens one line after the other for a page, and ends each before the next.
type gaugeOpener struct {
	w     world
	mu    sync.Mutex
	feed  *feed
	ended bool
}

func (o *gaugeOpener) open(s gauge.Settings) (tui.GaugeFeed, bool, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.feed.end()
	o.feed = nil
	if o.ended {
		return nil, false, errors.New("the page is left")
	}
	f, err := startFeed(o.w, &s, true)
	if err != nil {
		if do := hint(err); do != "" {
			err = fmt.Errorf("%w; %s", err, do)
		}
		return nil, false, err
	}
	o.feed = f
	return &gaugeStream{feed: f, now: o.w.now}, f.source.midway, nil
}

func (o *gaugeOpener) end() {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.ended = true
	o.feed.end()
	o.feed = nil
}

// gaugeStream gathers what comes on a line for a page, which need not see it more often than the eye does.
type gaugeStream struct {
	feed *feed
	now  func() time.Time
	last time.Time // when some was handed over
	idle bool      // that nothing comes is known
}

// newsPause is the time between two goes of news, mostNews how many bytes are in one, and idleAfter how long nothing comes until the
// page looks once more whether the needle stands.
const (
	newsPause = 50 * time.Millisecond
	mostNews  = 1 << 16
	idleAfter = 1500 * time.Millisecond
)

// Next waits for something new.
func (g *gaugeStream) Next() (out []tui.GaugeNews, more bool) {
	var quiet <-chan time.Time
	if !g.idle {
		quiet = time.After(idleAfter)
	}
	bytes := 0
	take := func(f fed) {
		n := tui.GaugeNews{Bytes: f.bytes, At: f.at, Found: f.found}
		if f.lost != nil {
			n.Lost = f.lost.Error()
		}
		bytes += len(f.bytes)
		out = append(out, n)
	}
	select {
	case f := <-g.feed.in:
		take(f)
		g.idle = false
	case said := <-g.feed.asides:
		out = append(out, tui.GaugeNews{Said: said})
	case <-quiet:
		g.idle = true
		return out, true
	case <-g.feed.done:
		return nil, false
	}
	wait := time.After(newsPause - g.now().Sub(g.last))
	for {
		in := g.feed.in
		if bytes >= mostNews {
			in = nil // whoever sends waits
		}
		select {
		case f := <-in:
			take(f)
		case <-wait:
			g.last = g.now()
			return out, true
		case <-g.feed.done:
			return nil, false
		}
	}
}
