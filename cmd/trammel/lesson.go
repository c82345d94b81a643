package main

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/tui"
	"example.org/trammel/tui/pane"
)

func lessonFlag() value[practice.Lesson] {
	return value[practice.Lesson]{kind: "N", read: practice.ParseLesson}
}

// taken is a lesson that is being taken.
type taken struct {
	practiceFlags
	w    world
	c    *common
	done []session.Event
}

// lessonLine says what a lesson aims at, and behind it what was learnt.
type lessonLine struct {
	Say    string            `json:"say"`
	Lesson int               `json:"lesson"`
	Title  string            `json:"title"`
	Aim    []string          `json:"aim,omitempty"`
	Learnt []practice.Learnt `json:"learnt,omitempty"`
}

// Text: a line for each.
func (l lessonLine) Text() string {
	out := append([]string{lessonWords(practice.Lesson(l.Lesson))}, l.Aim...)
	return strings.Join(append(out, learntWords(l.Learnt)...), "\n")
}

func lessonWords(l practice.Lesson) string { return fmt.Sprintf("lesson %d: %s", l, l.Title()) }

func learntWords(all []practice.Learnt) (out []string) {
	for _, x := range all {
		if x.Done {
			out = append(out, "learnt: "+x.Words)
		} else {
			out = append(out, "not yet: "+x.Words)
		}
	}
	return out
}

// practice is the page behind the start page's line of that name: the lessons, by their numbers, and the machine without one.
func (s *start) practice() error {
	return s.menu("practice", "back", func() (rows []startRow, err error) {
		for _, l := range practice.Course() {
			rows = append(rows, startRow{words: lessonWords(l), takes: "lesson " + l.String(), do: func(s *start) error {
				return practiceVerb(s.w, s.c, practiceFlags{manner: s.m, lesson: value[practice.Lesson]{v: l, set: true}})
			}})
		}
		return append(rows, startRow{words: "the machine without a lesson, another one each time", takes: "practice",
			do: func(s *start) error { return practiceVerb(s.w, s.c, practiceFlags{manner: s.m}) }}), nil
	})
}

// lessonFits refuses what a lesson says itself.
func (f *practiceFlags) lessonFits() error {
	switch {
	case f.setup.set:
		return misuse("--setup %v with --lesson, which has a machine of its own", f.setup.v)
	case f.trap.set:
		return misuse("--trap %v with --lesson, which says itself what is wrong", f.trap.v)
	case f.runs.set:
		return misuse("--runs with --lesson, need one or the other")
	}
	return f.single()
}

// lessonVerb takes one lesson, on the screen or by simulated hands.
func lessonVerb(w world, c *common, f practiceFlags) error {
	if err := f.lessonFits(); err != nil {
		return err
	}
	t := &taken{practiceFlags: f, w: w, c: c}
	if f.onScreen(w, c) {
		return onScreen(w, &f.manner, func(w world) error {
			t.w = w
			return t.course()
		})
	}
	l := f.lesson.v
	if err := say(w, c, lessonLine{Say: "lesson", Lesson: int(l), Title: l.Title(), Aim: l.Aim()}); err != nil {
		return err
	}
	if err := t.work(); err != nil {
		return err
	}
	return say(w, c, lessonLine{Say: "learnt", Lesson: int(l), Title: l.Title(), Learnt: l.Learnt(t.done)})
}

// course takes the lesson on the screen, between a page of its aim and one of what was learnt, and those that are chosen behind it.
func (t *taken) course() error {
	for {
		l := t.lesson.v
		n, err := t.page(
			tui.OpenConfig{Title: "practice, " + lessonWords(l), Answers: []string{"begin", "leave"}, Takes: "begin", Said: l.Aim()},
		)
		if err != nil || n != 1 {
			return err
		}
		told, w := &bytes.Buffer{}, t.w // what practice tells of the machine itself stands on the last page
		t.done, t.w.out = nil, told
		err = t.work()
		t.w = w
		if err != nil || t.w.screen.ctx.Err() != nil {
			return err
		}
		if l, err = t.last(nonEmpty(told.String())); err != nil || l == 0 {
			return err
		}
		t.lesson.v = l
	}
}

// last is the page of what was learnt, and returns the lesson that is taken behind it, 0 for none. Enter alone takes the same one
// again where something is left of it, else the next.
func (t *taken) last(told []string) (practice.Lesson, error) {
	const leave = practice.Lesson(0)
	l := t.lesson.v
	learnt := l.Learnt(t.done)
	behind := practice.Course()[l:]
	next := behind[:min(1, len(behind))]
	choice := slices.Concat(next, []practice.Lesson{leave, l})
	if slices.ContainsFunc(learnt, func(x practice.Learnt) bool { return !x.Done }) {
		choice = slices.Concat([]practice.Lesson{l}, next, []practice.Lesson{leave})
	}
	var answers []string
	for _, x := range choice {
		switch x {
		case leave:
			answers = append(answers, "leave")
		case l:
			answers = append(answers, lessonWords(l)+", again")
		default:
			answers = append(answers, lessonWords(x))
		}
	}
	takes, _, _ := strings.Cut(answers[0], ":")
	n, err := t.page(tui.OpenConfig{Title: lessonWords(l), Answers: answers, Takes: takes, Said: append(learntWords(learnt), told...)})
	if err != nil || n == 0 {
		return leave, err
	}
	return choice[n-1], nil
}

func nonEmpty(text string) (out []string) {
	for l := range strings.Lines(text) {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

// page shows a page of answers, and returns the number of the one that is taken, 0 for none.
func (t *taken) page(c tui.OpenConfig) (int, error) {
	s := t.w.screen
	c.Now, c.Plain, c.In, c.Out, c.Shell, c.Topics = t.w.now, t.plainly(t.w), s.in, s.out, s.shell, helpTopics()
	n, _, err := tui.Pick(s.ctx, c)
	return n, err
}

// work is the lesson itself.
func (t *taken) work() error {
	l := t.lesson.v
	n := t.seed.or(l.Seed())
	if l.Plate() {
		return t.plate(n)
	}
	bench := practice.Bench(n)
	set, err := practiceSetting(l.Trap().Lay(n, &bench, practice.BenchJob), practice.BenchMachine)
	if err != nil {
		return err
	}
	return t.sits(set, bench, n)
}

// sits works on the lesson's machine, and keeps what was done.
func (t *taken) sits(set session.Opened, bench practice.World, n uint64) error {
	m := practice.New(bench, n)
	t.lesson.v.Lay(m)
	mem, f := &session.Memory{}, t.practiceFlags
	if !f.steps.set { // a setting alone is short: the order at the machine comes with the arcs that are cut
		f.steps.v, f.steps.set = t.lesson.v.Plate(), true
	}
	err := f.sit(t.w, t.c, set, m, n, mem)
	for i, line := range mem.Lines {
		r, wrong := session.Decode(i+1, line)
		if wrong != nil {
			return errors.Join(err, wrong)
		}
		t.done = append(t.done, r.Event)
	}
	return err
}

// plate sets the arcs of the lesson's drawing: those that are chosen on its plan, or all in the plan's order.
func (t *taken) plate(n uint64) error {
	draft, err := job.ReadJob("practice job", practice.PlateJob())
	if err != nil {
		return err
	}
	f := newPlanFlags()
	f.cutters, f.typed = []string{"8"}, &draft.Unit
	p, err := planText(t.w, t.c, &f, practice.LessonPlateName, practice.LessonPlate)
	if err != nil {
		return err
	}
	if t.w.screen == nil {
		if err := say(t.w, t.c, p.line); err != nil {
			return err
		}
		for _, arc := range p.line.Swung() {
			if err := t.arc(p, draft, arc, n); err != nil {
				return err
			}
		}
		return nil
	}
	reach := map[int]pane.Standing{}
	s := t.w.screen
	for {
		chosen, err := tui.Choose(s.ctx, tui.PlanConfig{Plan: &p.line, Reach: reach, Plain: t.plainly(t.w), In: s.in, Out: s.out,
			Shell: s.shell, Now: t.w.now, Topics: helpTopics(), Check: func(int) (string, string) { return "", "" }})
		arc := chosen.Arc
		if err != nil || arc == 0 || s.ctx.Err() != nil {
			return err
		}
		before := len(t.done)
		if err := t.arc(p, draft, arc, n); err != nil {
			return err
		}
		switch now := t.done[before:]; {
		case did[session.Accepted](now):
			reach[arc] = pane.SetUp
		case did[session.Took](now) || reach[arc] == pane.ToDo: // of an arc that is set a new setting counts from its first reading
			reach[arc] = pane.Begun
		}
	}
}

// did reports whether an event of a kind is among these.
func did[E session.Event](all []session.Event) bool {
	return slices.ContainsFunc(all, func(e session.Event) bool { _, ok := e.(E); return ok })
}

// arc sets one arc of the plate: its bore stands where the head has been brought to roughly, so each has a machine of its own.
func (t *taken) arc(p *planned, draft *job.Draft, arc int, n uint64) error {
	set, err := practiceSetting(practice.BenchJob, practice.BenchMachine)
	if err != nil {
		return err
	}
	if set.Arc, err = part.Pick(p.Part, arc, p.Name); err != nil {
		return err
	}
	if set.Job, err = draft.For(set.Arc.Figures()); err != nil {
		return err
	}
	set.Outline = p.drawing.Runs
	if t.w.screen == nil {
		if err := say(t.w, t.c, arcLine{"arc", arc, record.ArcWords(set.Arc, set.Job.Unit, false)}); err != nil {
			return err
		}
	}
	n += uint64(arc)
	return t.sits(set, practice.Bench(n), n)
}

// arcLine says which arc of the plate is set next.
type arcLine struct {
	Say string `json:"say"`
	N   int    `json:"n"`
	// Words say what the plan says of it.
	Words string `json:"words"`
}

func (l arcLine) Text() string { return l.Words }
