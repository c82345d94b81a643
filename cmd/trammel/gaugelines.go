package main

import (
	"bufio"
	"errors"
	"io"
	"strconv"
	"strings"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// takeWord takes what the cable indicator stands still at.
const takeWord = "take"

// answers are the lines of the input; err holds once there are no more.
type answers struct {
	in  chan string
	err error
}

// readAnswers reads lines until the input ends, or nobody takes them any more.
func readAnswers(from io.Reader, done <-chan struct{}) *answers {
	a := &answers{in: make(chan string)}
	go func() {
		defer close(a.in)
		in := bufio.NewScanner(from)
		for in.Scan() {
			select {
			case a.in <- in.Text():
			case <-done:
				return
			}
		}
		a.err = in.Err()
	}()
	return a
}

// gaugedLines is a session in plain lines beside an indicator's line.
type gaugedLines struct {
	*feed
	w    world
	c    *common
	of   *opened
	live *session.Live
	u    geom.Unit
	gone bool // the line, and that has been said

	swings  gauge.Swings
	watched watchedLines
	doubts  bool // take was typed last, of a needle that is in doubt: once more takes it
}

// mostBefore is how much of what has come is read before an answer, so that a program that never stops sending cannot
// keep a person from being heard.
const mostBefore = 64

// unreadLook is the time between two looks whether lines came that are no readings, where nothing else comes.
const unreadLook = time.Second

// lines carries a session on in plain lines, answers and indicator side by side.
func (g *feed) lines(w world, c *common, o *opened, u geom.Unit) error {
	done := make(chan struct{})
	defer close(done)
	typed := readAnswers(w.in, done)
	l := &gaugedLines{feed: g, w: w, c: c, of: o, live: o.live, u: u, watched: watchedLines{unsure: true}}
	l.follow()
	look := time.NewTicker(unreadLook)
	defer look.Stop()
	for told := false; ; {
		var err error
		select {
		case text, more := <-typed.in:
			if !more {
				return paused(w, c, o, typed.err)
			}
			err = l.answer(text)
		case f := <-g.in:
			err = l.hear(f)
		case <-look.C:
			err = l.tell()
		}
		if errors.Is(err, errQuit) {
			return paused(w, c, o, nil)
		}
		if err != nil {
			return err
		}
		told = goesOn(w, o, told)
	}
}

// answer carries out what was typed, by what the indicator has sent until then.
func (l *gaugedLines) answer(text string) error {
	for range mostBefore {
		select {
		case f := <-l.in:
			if err := l.hear(f); err != nil {
				return err
			}
			continue
		default:
		}
		break
	}
	if strings.TrimSpace(text) == takeWord {
		asked := l.live.Asked()
		return l.entering(asked.Station(), func() error { return l.take(text) })
	}
	l.doubts = false
	s := l.live.State()
	cmd, _ := s.Read(text) // what cannot be read is answered below
	_, l.watched.unsure = cmd.(session.Undo)
	return l.entering(0, func() error {
		return l.of.answer(l.w, l.c, l.u, l.live.State().Set.Job.Unit, text)
	})
}

// entering carries out what may be an entry, of the needle at a station, or else 0. What the indicator sent before it was made for another
// question.
func (l *gaugedLines) entering(station int, do func() error) error {
	before := l.live.State().Events
	err := do()
	if err != nil || l.live.State().Events == before {
		return err
	}
	s := l.live.State()
	l.swings.Entered(station, s.Sweep.N == 0)
	l.reader.Forget()
	l.follow()
	return l.tell()
}

// take enters what the indicator stands still at.
func (l *gaugedLines) take(text string) error {
	refuse := func(because, hint string) error {
		return refused(l.w, l.c, l.live, l.u, text, &session.Refusal{Because: because, Hint: hint})
	}
	m, err := l.reader.Mean(l.w.now())
	if errors.Is(err, gauge.ErrButton) {
		return refuse(err.Error(), `press that; "stream" is the mode of one that sends all the time`)
	}
	if moving := (*gauge.MovingError)(nil); errors.As(err, &moving) {
		return refuse(moving.In(l.u), "wait until the needle is said to stand still, then take; or type the reading")
	}
	if because, hint := l.windWants(l.doubts); because != "" {
		l.doubts = l.watched.wind.Progress == gauge.Unseen
		return refuse(because, hint)
	}
	asked := l.live.Asked()
	since, doubts := l.swings.Doubts(asked.Station(), m)
	if insists := l.doubts; doubts && !insists {
		l.doubts = true
		return refuse(lines.NotMoved(since), "take once more takes it")
	} else if doubts {
		l.swings.Insisted()
	}
	l.doubts, l.watched.unsure = false, false
	return enter(l.w, l.c, l.live, l.u, text, session.Take{Reading: m.Value,
		Gauge: session.Gauged{Source: l.name, Samples: m.N, Spread: m.Spread}})
}

// hear takes in what has happened on the line.
func (l *gaugedLines) hear(f fed) error {
	if f.begins() {
		l.reader.Begin(l.source.midway)
	}
	if f.found {
		l.gone = false
		if err := say(l.w, l.c, lines.GaugeFound()); err != nil {
			return err
		}
	}
	if f.lost != nil {
		l.gone = true
		if a := l.watched.wind; a != nil {
			a.Lose()
		}
		if err := say(l.w, l.c, lines.GaugeLost(f.lost, f.forGood())); err != nil {
			return err
		}
	}
	var sent []float64
	l.reader.Add(f.bytes, f.at, func(mm float64) { sent = append(sent, mm) })
	if l.reader.Mode == gauge.Button {
		for _, mm := range sent {
			if err := l.pressed(mm); err != nil {
				return err
			}
		}
	}
	l.watch(sent)
	return l.tell()
}

// pressed enters a reading that the indicator's button has sent.
func (l *gaugedLines) pressed(mm float64) error {
	if l.live.State().Phase == session.Ended {
		return nil
	}
	text := strconv.FormatFloat(l.u.From(mm), 'f', -1, 64)
	return enter(l.w, l.c, l.live, l.u, text, session.Take{Reading: mm, Gauge: session.Gauged{Source: l.name, Samples: 1}})
}

// tell says whether the needle has come to rest, moves again or never rests, what could not be read, and that nothing comes any more.
func (l *gaugedLines) tell() error {
	now := l.w.now()
	s := l.live.State()
	for _, n := range l.reader.Changes(now) {
		if err := say(l.w, l.c, lines.Needle(&s, n, l.u)); err != nil {
			return err
		}
	}
	if n, why := l.reader.Unread(now); n > 0 {
		if err := say(l.w, l.c, lines.GaugeUnread(n, why)); err != nil {
			return err
		}
	}
	if l.gone {
		return nil
	}
	for _, line := range l.ails(now, l.u) {
		if err := say(l.w, l.c, line); err != nil {
			return err
		}
	}
	return nil
}
