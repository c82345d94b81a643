package job

import (
	"fmt"
	"slices"

	"example.org/trammel/indicator/slide"
)

// againKey is the question behind rounds that came to nothing.
const againKey = "again"

// What may be done then, beside one more round in the place of one.
const (
	allAgain = "all rounds again"
	leaveIt  = "leave it at that"
)

// againAsk asks whether a round is made again, or all are. Which reading is out is named where the others say so.
var againAsk = asks{key: againKey, kind: againKind{}, when: cameToNothing, text: againText,
	def: againFirst,
	help: "A misread round is left out, and said to be; two more are made in its place, for a slide that drags agrees with itself by\n" +
		"chance. All rounds again begins with the first, once what hindered them is seen to. To leave it at that keeps what was\n" +
		"found, which may be nothing."}

// againFirst is what helps likeliest. Of a slide that may drag nothing is left out unasked: some rounds agree sooner or later.
func againFirst(a *answers, in string) string {
	if t := a.needleTest(needleName(in)); slices.Contains(t.Found().Notes, slide.NeedleDrags) {
		return leaveIt
	}
	return againChoices(a, in+".")[0].words
}

// againKind is a choice of which one goes back to the first round.
type againKind struct{}

func (againKind) describe(a *answers, q *Question) { choices(againChoices).describe(a, q) }

func (againKind) read(a *answers, q *Question, text string) (meant, error) {
	m, err := choices(againChoices).read(a, q, text)
	if m.said == allAgain {
		m.found = &found{again: fmt.Sprintf("needle.%s.round_1.read_1", needleName(q.Key))}
	}
	return m, err
}

// againChoices are what may be done, the likeliest first; one that is written is the number of a round.
func againChoices(a *answers, key string) (all []choice) {
	t := a.needleTest(needleName(key))
	if m := t.Misread(); m.Round > 0 {
		all = append(all, choice{words: fmt.Sprintf("leave round %d out, and make two more", m.Round), toml: decimal(float64(m.Round))})
	}
	return append(all, choice{words: allAgain, toml: "0"}, choice{words: leaveIt, toml: "0"})
}

// hinders are the notes of tests that another round may mend.
var hinders = []slide.NeedleNote{slide.NeedleWayward, slide.NeedleStill, slide.NeedleOffScale, slide.NeedleDrags}

func cameToNothing(a *answers, in string) bool {
	t := a.needleTest(needleName(in))
	if !t.Done() || len(t.Rounds) != roundOf(in) {
		return false
	}
	f := t.Found()
	return slices.ContainsFunc(f.Notes, func(n slide.NeedleNote) bool { return slices.Contains(hinders, n) })
}

func againText(a *answers, in string) string {
	t := a.needleTest(needleName(in))
	text := ofNeedle("%s slide: ")(a, in)
	for _, n := range t.Found().Notes {
		text += string(n) + "\n"
	}
	if said := a.misread(&t); said != "" {
		text += said + "\n"
	}
	return text + "make another round?"
}

// misread says which reading does not go with the others; empty for none.
func (a *answers) misread(t *slide.NeedleTest) string {
	m := t.Misread()
	if m.Round == 0 {
		return ""
	}
	u := a.unit()
	return fmt.Sprintf("round %d: the %s reading, %s %v, does not go with the other rounds, which have it about %s %v", m.Round,
		[...]string{"first", "second", "third"}[m.Reading-1],
		a.typed(fmt.Sprintf("needle.%s.round_%d.read_%d", t.Slide.Name, m.Round, m.Reading)), u, decimal(rounded(u.From(m.Near), 4)), u)
}

// struck says which rounds were left out.
func struck(t *slide.NeedleTest) (all []string) {
	for i, r := range t.Rounds {
		if r.Struck {
			all = append(all, fmt.Sprintf("round %d is left out: two more were made in its place", i+1))
		}
	}
	return all
}
