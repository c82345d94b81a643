package main

import (
	"bufio"
	"errors"
	"fmt"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/session"
)

// errQuit ends the line mode by the person's wish.
var errQuit = errors.New("quit")

// lineMode carries a session on in plain lines: one answer in, what follows out.
func lineMode(w world, c *common, o *opened) error {
	s := o.live.State()
	typed := s.Set.Job.Unit
	u := c.unit.or(typed)
	if o.resumed {
		if err := say(w, c, lines.Resumed(&s)); err != nil {
			return err
		}
	}
	if err := saySteps(w, c, u, o.steps); err != nil {
		return err
	}
	if o.resumed && len(o.steps) == 0 {
		if err := ask(w, c, &s, u); err != nil {
			return err
		}
	}
	if o.gauge != nil {
		return o.gauge.lines(w, c, o, u)
	}
	in := bufio.NewScanner(w.in)
	for told := false; ; {
		between, err := o.sayBetween(w, c)
		if err != nil || !in.Scan() {
			return paused(w, c, o, errors.Join(err, in.Err()))
		}
		if between && !ofSetting(in.Text()) {
			o.next = in.Text()
			return nil
		}
		if between && strings.TrimSpace(in.Text()) == whereWord {
			continue // it is told
		}
		err = o.answer(w, c, u, typed, in.Text())
		if errors.Is(err, errQuit) {
			break
		}
		if err != nil {
			return err
		}
		told = goesOn(w, o, told)
	}
	return paused(w, c, o, nil)
}

// goesOn tells a person at a terminal what may follow a setting that has ended, once: the input goes on.
func goesOn(w world, o *opened, told bool) bool {
	ended := o.live.State().Phase == session.Ended
	if ended && !told && w.terminal {
		fmt.Fprintln(w.err, "trammel: hint: part begins the next part on this setting; quit leaves")
	}
	return ended
}

// paused says where the session stands at the end of the input; err is what was wrong with that.
func paused(w world, c *common, o *opened, err error) error {
	if err != nil {
		return fmt.Errorf("standard input: %w", err)
	}
	if s := o.live.State(); s.Phase != session.Ended {
		return say(w, c, lines.Paused(s.Events))
	}
	return nil
}

// answer carries out one line of input; where a whole plate stands is told by its journals.
func (o *opened) answer(w world, c *common, u, typed geom.Unit, text string) error {
	if strings.TrimSpace(text) != whereWord {
		return answer(w, c, o.live, u, typed, text)
	}
	s := o.live.State()
	run := (&dialFlags{journal: o.path, arcFlags: newArcFlags()}).keptRun()
	if run == nil {
		return refused(w, c, o.live, u, text, &session.Refusal{Because: "this setting is none of a whole plate's run",
			Hint: "dial --drawing FILE without --arc works a plate off"})
	}
	x, _ := run.where(w, c)
	if err := say(w, c, x); err != nil {
		return err
	}
	return ask(w, c, &s, u)
}

// answer carries out one line of input that is about the setting.
func answer(w world, c *common, l *session.Live, u, typed geom.Unit, text string) error {
	s := l.State()
	if strings.TrimSpace(text) == "setup" {
		if err := say(w, c, lines.Setup(&s, u)); err != nil {
			return err
		}
		return ask(w, c, &s, u)
	}
	if said, asked := helpAsked(&s, text); asked {
		for _, l := range said {
			if err := say(w, c, l); err != nil {
				return err
			}
		}
		return ask(w, c, &s, u)
	}
	if strings.TrimSpace(text) == takeWord {
		return refused(w, c, l, u, text, &session.Refusal{Because: "there is no cable indicator to take a reading from",
			Hint: "type it; dial --gauge names one"})
	}
	cmd, err := parseAnswer(text, s.Read)
	if errors.Is(err, errQuit) {
		return err
	}
	if sign, ok := cmd.(session.Sense); ok && sign.Went == "" { // how is it checked
		if sign.Slide == "" {
			sign.Slide = s.NextSense()
		}
		if err := say(w, c, lines.SenseAsk(&s, sign.Slide)); err != nil {
			return err
		}
		return ask(w, c, &s, u)
	}
	if err != nil {
		return refused(w, c, l, u, text, err)
	}
	return enter(w, c, l, u, text, cmd)
}

// enter carries out a command, which was said as text.
func enter(w world, c *common, l *session.Live, u geom.Unit, text string, cmd session.Command) error {
	steps, err := l.Do(cmd, w.now())
	if serr := saySteps(w, c, u, steps); serr != nil {
		return serr
	}
	var lost *session.RecordError
	if err == nil || errors.As(err, &lost) {
		return err
	}
	return refused(w, c, l, u, text, err)
}

// refused says why something was not taken, and asks once more.
func refused(w world, c *common, l *session.Live, u geom.Unit, text string, err error) error {
	if err := say(w, c, lines.Refused(text, err)); err != nil {
		return err
	}
	s := l.State()
	return ask(w, c, &s, u)
}

// helpAsked is what is said where a line asks for help: of what is asked, or of the words.
func helpAsked(s *session.State, text string) (said []lines.HelpLine, asked bool) {
	switch strings.Join(strings.Fields(text), " ") {
	case "?", "help":
		p := s.Prompt()
		return []lines.HelpLine{lines.Help(s, &p)}, true
	case "help words", "? words":
		return lines.WordLines(), true
	}
	return nil, false
}

// ask says once more what the session waits for.
func ask(w world, c *common, s *session.State, u geom.Unit) error {
	if p := lines.Prompt(s, u); p != nil {
		return say(w, c, p)
	}
	return nil
}

func saySteps(w world, c *common, u geom.Unit, steps []session.Step) error {
	for _, st := range steps {
		for _, l := range lines.Of(st, u) {
			if err := say(w, c, l); err != nil {
				return err
			}
		}
	}
	return nil
}

// own are the words of the line mode itself, which enter nothing, each in front of the word that it is told before.
var own = map[string]session.Phrase{
	"sense": {Text: "setup", Help: "draw where the indicator goes"},
	"off":   {Text: takeWord, Help: "the reading that the cable indicator stands still at (--gauge)"},
	"note":  {Text: whereWord, Help: "where one is with the whole plate (--drawing without --arc)"},
	"again": {Text: "help", Help: "what this step is for, and what to do; help words: what the words mean"},
	"":      {Text: "quit", Help: "leave; --resume goes on"},
}

// whereWord asks where one is with a whole plate.
const whereWord = "where"

// grammarHelp lists all that can be typed, a line each.
func grammarHelp() string {
	all := session.Phrases(own)
	wide := 0
	for _, f := range all {
		wide = max(wide, len(f.Text))
	}
	var b strings.Builder
	for _, f := range all {
		fmt.Fprintf(&b, "  %-*s  %s\n", wide, f.Text, f.Help)
	}
	return b.String()
}

// parseAnswer reads one line of input: a word of the interface, or what else can be read.
func parseAnswer(text string, read func(string) (session.Command, error)) (session.Command, error) {
	if strings.TrimSpace(text) == "quit" {
		return nil, errQuit
	}
	c, err := read(text)
	if errors.Is(err, session.ErrUnknownWord) {
		var all []string
		for _, f := range session.Phrases(own) {
			all = append(all, f.Text)
		}
		return nil, &session.Refusal{Because: err.Error(), Hint: "a reading like -0.125, or " + strings.Join(all, ", ")}
	}
	return c, err
}
