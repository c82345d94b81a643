package lines

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

type (
	// CheckLine asks about what is stated and in question: how the sign of a slide is checked, or, where no check would tell
	// more (Slide is null), which of the causes is put right. Divisions is as far as the hand winds at the most.
	CheckLine struct {
		Say       string         `json:"say"`
		Trial     int            `json:"trial"`
		Slide     *string        `json:"slide"`
		Bearing   record.Number  `json:"bearing"`
		Table     record.Number  `json:"table"`
		Collar    record.Number  `json:"collar"`
		Divisions record.Number  `json:"divisions"`
		Answers   []session.Went `json:"answers"`
		Causes    []Stated       `json:"causes"`
		text      string
	}
	// RestatedLine says what was put right, and what to write into the file.
	RestatedLine struct {
		Say   string `json:"say"`
		Key   string `json:"key"`
		Was   string `json:"was"`
		Is    string `json:"is"`
		Write string `json:"write"`
	}
	// PassedLine says that a check was passed over.
	PassedLine struct {
		Say   string `json:"say"`
		Trial int    `json:"trial"`
	}
	// DiffersLine says what of the files differs from the open setting and can be put right in it.
	DiffersLine struct {
		Say     string   `json:"say"`
		Trial   int      `json:"trial"`
		Changes []Change `json:"changes"`
	}
	// Change is one of them, by its key.
	Change struct {
		Key string `json:"key"`
		Was string `json:"was"`
		Is  string `json:"is"`
	}
	// BackLine tells the way back from where the needle is off the dial everywhere: the last winds undone, newest first.
	BackLine struct {
		Say   string     `json:"say"`
		Winds []BackWind `json:"winds"`
		Clear bool       `json:"clear"`
		shown []slide.Slide
	}
	// BackWind is one wind undone.
	BackWind struct {
		Slide string `json:"slide"`
		Moves []Move `json:"moves"`
	}
)

var suspected = told[session.Suspected]{status: asText, happened: func(e session.Suspected) string {
	const asks = "something stated is in question: a sign is to be checked"
	if e.Wind {
		return "the needle went the other way than it should (off before anything was wound? then again, and the sweep begins anew); " + asks
	}
	return "a wind led elsewhere than it should; " + asks
}}.row()

var passedOver = told[session.PassedOver]{status: asText, lines: func(st session.Step, _ session.PassedOver, _ geom.Unit) []Line {
	return []Line{PassedLine{Say: "passed over", Trial: st.After.Trial}}
}}.row()

// Text: see [Line].
func (l PassedLine) Text() string {
	return "passed over: the winds go on as stated, and may go astray once more"
}

var restated = told[session.Restated]{status: asText, undo: func(_ *session.State, e session.Restated, _ geom.Unit) string {
	return "what was put right, " + e.Key
}, lines: func(st session.Step, e session.Restated, _ geom.Unit) []Line {
	return []Line{RestatedLine{Say: "restated", Key: e.Key, Was: e.Was, Is: e.Is, Write: writeWords(&st.After, e.Key, e.Is)}}
}}.row()

// Text: see [Line].
func (l RestatedLine) Text() string {
	x := session.Cause{Key: l.Key}
	return fmt.Sprintf("put right: %s was %s, is %s; write it into the file: %s; nothing is learnt from the winds before, "+
		"and a new sweep begins", l.Key, x.Shown(l.Was), x.Shown(l.Is), l.Write)
}

// writeWords is what to write into which file where keys are so. The sense of a slide takes its take_up with it.
func writeWords(s *session.State, key, is string) string {
	values := strings.Split(is, ",")
	var out []string
	file := "machine"
	for i, k := range strings.Split(key, ",") {
		dot := strings.LastIndex(k, ".")
		if dot < 0 || i >= len(values) {
			return key
		}
		table, name, value := k[:dot], k[dot+1:], values[i]
		if table == "setup" || table == "dial" {
			file = "job"
		}
		if _, err := strconv.ParseFloat(value, 64); err != nil {
			value = strconv.Quote(value)
		}
		w := fmt.Sprintf("%s = %s", name, value)
		if sl, ok := s.Set.Machine.Slide(strings.TrimPrefix(table, "slide.")); ok && name == "clockwise" {
			up := sl.TakeUp
			if sl.Clockwise.String() != values[i] {
				up = -up
			}
			w += fmt.Sprintf(" and take_up = %q", up)
		}
		out = append(out, w+" under ["+table+"]")
	}
	return strings.Join(out, ", ") + " in the " + file + " file"
}

var differs = told[session.Differs]{status: asText, lines: func(st session.Step, e session.Differs, _ geom.Unit) []Line {
	l := DiffersLine{Say: "differs", Trial: st.After.Trial}
	for _, c := range e.Causes {
		l.Changes = append(l.Changes, Change{c.Key, c.Was, c.Is})
	}
	return []Line{l}
}}.row()

// Text: see [Line].
func (l DiffersLine) Text() string {
	out := make([]string, len(l.Changes))
	for i, c := range l.Changes {
		x := session.Cause{Key: c.Key}
		out[i] = fmt.Sprintf("%d %s was %s, is %s", i+1, c.Key, x.Shown(c.Was), x.Shown(c.Is))
	}
	take := "restate takes it"
	if len(out) > 1 {
		take = "restate N takes the N-th"
	}
	return "the files are not what the setting was opened with: " + strings.Join(out, "; ") +
		"; the session goes on with what the journal holds, " + take
}

var backed = told[session.Backed]{status: asText, lines: func(st session.Step, e session.Backed, _ geom.Unit) []Line {
	why := "brought nearer by scale: the sweep begins anew"
	if len(e.Winds) > 0 {
		why = "wound back: nothing is learnt from those winds, and the sweep begins anew"
	}
	return []Line{AgainLine{Say: "again", Trial: st.After.Trial, Because: why}}
}}.row()

// check asks about what is in question.
func check(s *session.State, c session.CheckAsked) Line {
	l := CheckLine{Say: "check", Trial: s.Trial, Bearing: record.Number(nan), Table: record.Number(nan), Collar: record.Number(nan),
		Divisions: record.Number(nan), Answers: []session.Went{}, Causes: stated(s, c.Causes), text: CheckWords(s, &c)[0]}
	if c.Plan.Slide == "" {
		return l
	}
	l.Slide, l.Answers = &c.Plan.Slide, session.Answers
	l.Bearing, l.Table, l.Collar = record.Degrees360(c.Plan.Bearing), table(s, c.Position), record.Number(c.Ring)
	l.Divisions = record.Number(mostDivisions(s, c.Plan.Slide))
	return l
}

// mostDivisions is as far as the hand winds for a check: the backlash and half a turn.
func mostDivisions(s *session.State, name string) float64 {
	sl, _ := s.Set.Machine.Slide(name)
	return math.Ceil(sl.Backlash/sl.Division() + sl.Divisions/2)
}

// Text: see [Line].
func (l CheckLine) Text() string {
	if len(l.Causes) == 0 {
		return l.text
	}
	if l.Slide != nil {
		return l.text + "; " + byRestate(l.Causes)
	}
	return l.text + "; in question: " + numbered(l.Causes, "; ")
}

// byRestate lists causes while a sign is checked: the numbers there are the check's answers, so each cause has its word with it.
func byRestate(all []Stated) string {
	words := make([]string, len(all))
	for i, c := range all {
		words[i] = c.Change
		if c.Key != nil {
			words[i] = fmt.Sprintf("%s (restate %d)", c.Change, i+1)
		}
	}
	return "in question, put right only if the check says so: " + strings.Join(words, "; ")
}

// numbered lists causes from 1; a lone one without its number.
func numbered(all []Stated, between string) string {
	words := make([]string, len(all))
	for i, c := range all {
		if words[i] = c.Change; len(all) > 1 {
			words[i] = fmt.Sprintf("(%d) %s", i+1, c.Change)
		}
	}
	return strings.Join(words, between)
}

// InQuestion lists what is in question, for a screen: by the numbers that answer, and without any while a number says what the
// needle did.
func InQuestion(s *session.State, c *session.CheckAsked) (out []string) {
	for i, x := range c.Causes {
		mark := strconv.Itoa(i + 1)
		if c.Plan.Slide != "" {
			mark = "-"
		}
		out = append(out, mark+"  "+changeWords(s, x))
	}
	return out
}

// CheckWords says what is to be done about what is in question, in the hand's order, in ever shorter forms.
func CheckWords(s *session.State, c *session.CheckAsked) []string {
	if c.Plan.Slide == "" {
		if len(c.Causes) == 1 {
			return []string{"restate puts it right (1), skip winds on as stated, again sweeps anew",
				"1 put right, skip: as stated, again: sweep anew"}
		}
		return []string{"restate N puts one of them right (a digit does too), skip winds on as stated, again sweeps anew",
			"digit: put that one right, skip: as stated"}
	}
	name := SlideName(c.Plan.Slide)
	most := geom.FormatFixed(mostDivisions(s, c.Plan.Slide), 0)
	short := "tip touching at " + place(s, c.Plan.Bearing)
	at := short
	switch wound := s.Accused != nil && s.Accused.Wind; {
	case c.Plan.Clear:
		at += ", cleared of over-pressing first"
	case wound:
		at += ", the needle on the dial"
	}
	return []string{
		fmt.Sprintf("check the sign of the %s slide first: %s, %s clamp open; %s, wind %s clockwise until the needle "+
			"has moved, at the most %s divisions or until the handle goes stiff, then back past where it "+
			"stood and up again the take-up way: 1 up, 2 down, 3 did not move, 4 only on the way back (sense %s up, and so on); "+
			"skip passes it over", name, at, name, record.FacingHandle, name, most, c.Plan.Slide),
		fmt.Sprintf("%s: %s clockwise, %s div at most, and back: 1 up, 2 down, 3 did not move, 4 only on the way back", short, name, most),
		fmt.Sprintf("%s, %s clockwise %s div at most: 1 up 2 down 3 still 4 only back", place(s, c.Plan.Bearing), name, most),
		fmt.Sprintf("%s, %s clockwise: 1 up 2 down 3 still 4 back", place(s, c.Plan.Bearing), name),
	}
}

// back tells the way back.
func back(b session.BackAsked) Line {
	l := BackLine{Say: "back", Winds: []BackWind{}, Clear: b.Clear, shown: b.Slides}
	for _, w := range b.Winds {
		l.Winds = append(l.Winds, BackWind{w.Slide, hand(w.Moves)})
	}
	return l
}

// Text: see [Line].
func (l BackLine) Text() string {
	t := "the needle is off the dial everywhere: "
	if l.Clear {
		t += "bring the tip clear first, for it is over-pressed; then "
	}
	if len(l.Winds) == 0 {
		return t + "bring the slides nearer by scale, to within the dial's range, then confirm (done): the sweep begins anew"
	}
	var all []string
	for i, w := range l.Winds {
		all = append(all, SlideName(w.Slide)+" "+spell(l.shown[i], w.Moves))
	}
	return t + "wind back what was wound last, " + record.FacingHandle + ": " + strings.Join(all, "; then ") +
		"; then bring the tip in and confirm (done): the sweep begins anew"
}

// StillWords is what a check that told nothing may mean; empty for one that told a way.
func StillWords(w session.Went) string {
	switch w {
	case session.Still:
		return "that tells no sense: is the slide clamped? is it the right handle? does the tip touch? was it more than the backlash?"
	case session.BackOnly:
		return "that tells no sense: the backlash was not out yet on the way out, so wind farther, backlash and half a turn at the most; " +
			"or was the " +
			"tip not touching?"
	case session.Up, session.Down:
	}
	return ""
}

// leftWords says what a check has left in question; empty where nothing was before.
func leftWords(before, after *session.State) string {
	switch {
	case before.Accused == nil && len(after.Named) == 0:
		return ""
	case before.Accused != nil && len(after.Named) == 0 && after.Phase == session.Winding:
		return "nothing is in question any more: the winds go on"
	case before.Accused != nil && len(after.Named) == 0 && before.Accused.Wind:
		return "so the other way was wound, or something has moved: a new sweep begins"
	case before.Accused != nil && len(after.Named) == 0:
		return "none of what was in question would explain it: a new sweep begins, and nothing is learnt from the winds before it"
	case len(after.Named) == 1 && after.Named[0].Key != "":
		return "restate puts it right: " + changeWords(after, after.Named[0])
	}
	if _, ok := after.NextCheck(); ok {
		return byRestate(stated(after, after.Named))
	}
	return "in question: " + numbered(stated(after, after.Named), "; ")
}
