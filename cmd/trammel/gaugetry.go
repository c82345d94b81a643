package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// gaugeLines is the setting up of a cable indicator in plain lines: what comes is told beside what is typed.
type gaugeLines struct {
	w    world
	c    *common
	of   *gaugeTrial
	try  *gauge.Trying
	feed *feed

	untold  int    // lines that have come since some were told
	advice  string // as it was told last
	advised time.Time
}

// What comes is told so often at most, and so many lines of it then.
const (
	heardPause = 100 * time.Millisecond
	mostHeard  = 3
)

// advicePause is the least time between two words on what to do next: of a line that is sometimes right it changes all the time.
const advicePause = 2 * time.Second

// gaugeInLines sets a cable indicator up in plain lines, until that is kept or left.
func gaugeInLines(w world, c *common, t *gaugeTrial) error {
	done := make(chan struct{})
	defer close(done)
	in := readAnswers(w.in, done)
	var err error
	if t.set.Source == "" {
		if t.set.Source, err = askSource(w, c, in); err != nil || t.set.Source == "" {
			return errors.Join(err, leftGauge(w))
		}
	}
	l := &gaugeLines{w: w, c: c, of: t}
	if l.try, err = gauge.NewTrying(t.set, t.unit); err != nil {
		return err
	}
	if err := l.open(); err != nil {
		return err
	}
	defer func() { l.feed.end() }()
	if err := say(w, c, record.GaugeKnobs(l.try)); err != nil {
		return err
	}
	return l.run(in)
}

func leftGauge(w world) error {
	_, err := fmt.Fprintln(w.err, "trammel: the cable indicator is left, and nothing is written")
	return err
}

// open opens the line by the settings.
func (l *gaugeLines) open() (err error) {
	s := l.try.Settings()
	if l.feed, err = startFeed(l.w, &s, false); err != nil {
		return err
	}
	l.try.Begin(l.feed.source.midway)
	l.untold = 0
	return nil
}

// errKept ends it: what was found right is written.
var errKept = errors.New("kept")

func (l *gaugeLines) run(in *answers) error {
	tell := time.NewTicker(heardPause)
	defer tell.Stop()
	for {
		var err error
		select {
		case text, more := <-in.in:
			if !more || strings.TrimSpace(text) == "quit" {
				return errors.Join(in.err, leftGauge(l.w))
			}
			err = l.answer(text)
		case f := <-l.feed.in:
			err = l.hear(f)
		case <-tell.C:
			err = l.tell()
		}
		if errors.Is(err, errKept) {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

// hear takes in what has happened on the line.
func (l *gaugeLines) hear(f fed) error {
	if f.begins() {
		if err := l.tell(); err != nil {
			return err
		}
		l.try.Begin(l.feed.source.midway)
	}
	l.untold += l.try.Add(f.bytes, f.at)
	switch {
	case f.lost != nil:
		return say(l.w, l.c, lines.GaugeLost(f.lost, f.forGood()))
	case f.found:
		return say(l.w, l.c, lines.GaugeFound())
	}
	return nil
}

// tell tells the last lines of those that have come, and what to do next where that is something else.
func (l *gaugeLines) tell() error {
	all := l.try.Heard(min(l.untold, mostHeard))
	skipped := l.untold - len(all)
	_, moves := l.try.Steady(l.w.now())
	for i := range all {
		if err := say(l.w, l.c, record.Heard(l.try, &all[i], moves == nil && i == len(all)-1, skipped)); err != nil {
			return err
		}
		skipped = 0
	}
	l.untold = 0
	if words, now := l.try.Advice(), l.w.now(); words != l.advice && now.Sub(l.advised) > advicePause {
		l.advice, l.advised = words, now
		return say(l.w, l.c, record.GaugeAdvice(words))
	}
	return nil
}

// gaugeWords are what can be typed, beside the keys.
const gaugeWords = `KEY shows what a key is commonly set to, KEY NUMBER or KEY VALUE sets it, and source SPEC goes to another line;
settings shows all keys. pattern may be a regular expression with the group (?P<value>…) around the figure; preset now takes the
figure that it shows for its zero. keep writes what is set into the machine's file, once its figure was seen to move; keep unseen
writes it though it was not. quit leaves, and nothing is written.`

// keepUnseen keeps what a person insists on, though the indicator's figure was not seen to move.
const keepUnseen = "unseen"

// answer carries out what was typed.
func (l *gaugeLines) answer(text string) error {
	key, value, _ := strings.Cut(strings.TrimSpace(text), " ")
	value = strings.TrimSpace(value)
	var err error
	switch key {
	case "", "settings":
		return say(l.w, l.c, record.GaugeKnobs(l.try))
	case "?", "help":
		return say(l.w, l.c, lines.HelpLine{Say: "help", Said: gaugeWords})
	case "keep":
		if err = l.keep(value); err == nil {
			return errKept
		}
	case "source":
		s := l.try.Settings()
		if s.Source, err = gauge.PickSource(serialPorts(), value); err == nil {
			err = l.change(s)
		}
	default:
		k := gauge.KnobOf(l.try, key)
		switch {
		case k == nil:
			err = fmt.Errorf("%q, need %s, source, settings, keep, quit or help", key, strings.Join(gauge.Keys(l.try), ", "))
		case value == "":
			return say(l.w, l.c, record.KnobOf(l.try, k))
		default:
			var v gauge.Value
			if v, err = k.Value(l.try, value); err == nil {
				err = l.change(l.try.Set(v))
			}
		}
	}
	if err != nil {
		return say(l.w, l.c, lines.Refused(text, err))
	}
	return nil
}

// keep writes what is set, once it is ready to be: or as it is, where a person insists.
func (l *gaugeLines) keep(how string) error {
	err := l.try.Unready()
	unmoved := (*gauge.UnmovedError)(nil)
	switch passes := errors.As(err, &unmoved); {
	case how != "" && how != keepUnseen:
		return fmt.Errorf("%q, need keep, or keep %s", "keep "+how, keepUnseen)
	case passes && how == "":
		return &session.Refusal{Because: err.Error(), Hint: unmoved.Hint() + "; keep " + keepUnseen + " writes it all the same"}
	case err != nil && !passes:
		return err
	}
	return l.of.keep(l.w, l.c, l.try.Settings())
}

// change goes on with other settings, and opens the line anew where it has to be. Where that cannot be, they are as they were.
func (l *gaugeLines) change(s gauge.Settings) error {
	was := l.try.Settings()
	if err := l.try.Change(s); err != nil {
		return err
	}
	if s.Line() != was.Line() {
		l.feed.end()
		if err := l.open(); err != nil {
			if back := l.try.Change(was); back != nil {
				return back
			}
			if again := l.open(); again != nil {
				return errors.Join(err, again)
			}
			return err
		}
	}
	l.untold = min(1, len(l.try.Heard(1))) // the last line is told anew, by what is set now
	return say(l.w, l.c, record.GaugeKnobs(l.try))
}
