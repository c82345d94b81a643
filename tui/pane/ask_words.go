package pane

import (
	"cmp"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/trammel/indicator/job"
	"example.org/trammel/tui/theme"
)

// yesAndNo are how the two answers are said that a file spells otherwise.
var yesAndNo = map[string]string{"true": "yes", "false": "no"}

// spoken is a choice as it is said.
func spoken(q *job.Question, choice string) string {
	if q.Closed {
		return spokenAs(choice)
	}
	return choice
}

func spokenAs(answer string) string {
	if w, ok := yesAndNo[answer]; ok {
		return w
	}
	return answer
}

// Takes says what Enter alone takes; empty where it takes nothing.
func Takes(q *job.Question) string {
	switch {
	case q.Default == "" && q.Optional && !q.Said:
		return cmp.Or(q.Out, job.DontKnow)
	case q.Default == "":
		return ""
	case q.Closed:
		for i, c := range q.Choices {
			if strings.EqualFold(c, q.Default) {
				return strconv.Itoa(i+1) + ", " + spoken(q, c)
			}
		}
	}
	return strings.TrimSpace(q.Default + " " + unitWord(q))
}

// orList lists figures with an or before the last, which no list of numbered answers has.
func orList(all []string) string {
	last := len(all) - 1
	if last == 0 {
		return all[0]
	}
	return strings.Join(all[:last], ", ") + " or " + all[last]
}

// unitWord is the unit of what is asked, behind a figure.
func unitWord(q *job.Question) string {
	switch {
	case q.Closed:
		return ""
	case q.Unit == "deg":
		return "degrees"
	}
	return q.Unit
}

// or says what may be typed, in ever shorter forms.
func (v *AskView) or() (long, short string) {
	in := ""
	if u := unitWord(&v.Question); u != "" {
		in = " in " + u
	}
	switch q := &v.Question; {
	case q.Closed && q.Unit != "":
		return "the number of an answer, or the limit itself with its decimals", "a number"
	case q.Closed:
		return "the number of an answer", "a number"
	case q.Two:
		return "two figures" + in + ", Enter between them", "two figures" + in
	case q.Across:
		return "a figure" + in + ", d before a diameter", "a figure" + in
	case q.Numeral:
		return "a figure" + in, "a figure" + in
	case q.Default != "":
		return "another", "another"
	}
	return "it", "it"
}

// typed is what an entry belongs to.
func (v *AskView) typed() string { return v.say(v.Question.Short()) }

// action is what answers the question.
func (v *AskView) action() action {
	long, short := v.or()
	switch takes := v.say(Takes(&v.Question)); {
	case v.Once != "":
		return big([]string{"Enter once more: " + v.say(v.Once), "Enter: " + v.say(v.Once)}, "leave?")
	case v.Over:
		return v.ends(false)
	case v.Entry != "":
		entry, means := v.num(v.say(v.Entry))+"_", "what is typed"
		if n, err := strconv.Atoi(strings.TrimSpace(v.Entry)); err == nil && v.Question.Closed && n >= 1 && n <= len(v.Question.Choices) {
			means = strconv.Itoa(n) + ", " + v.say(spoken(&v.Question, v.Question.Choices[n-1]))
		}
		return big([]string{"Enter takes " + means + "; / clears it", "Enter takes " + means, "Enter takes it; / clears it"},
			v.typed()+": "+entry, entry)
	case takes == "":
		return v.large([]string{"type " + long + ", then Enter; * lists what else can be said", "type " + long + ", then Enter",
			"type " + short + ", then Enter"})
	default:
		enter := "Enter takes " + takes
		if v.Question.Default == "" {
			enter = "Enter: " + takes
		}
		return v.large([]string{enter + "; or type " + long + "; * lists what else can be said",
			enter + "; or type " + long, enter + "; or type " + short, enter})
	}
}

// large is what is asked in large letters, in one line or two.
func (v *AskView) large(words []string) action {
	short := v.say(v.Question.Large())
	a := big(words, short)
	if all := strings.Fields(short); len(all) > 1 {
		at, best := 1, len(short)
		for i := 1; i < len(all); i++ { // where the longer of two lines is shortest
			if wide := max(len(strings.Join(all[:i], " ")), len(strings.Join(all[i:], " "))); wide < best {
				at, best = i, wide
			}
		}
		a.parts[0].two = [][]string{{strings.Join(all[:at], " ")}, {strings.Join(all[at:], " ")}}
	}
	return a
}

// helpBlocks are a text of sentences and drawings, in rows of at most w cells: sentences are broken anew, and a drawing that is too
// wide is unfolded into what stands beside one another in it. A drawing's block has a gap.
func helpBlocks(t theme.Theme, text string, w int, say func(string) string) (out []block) {
	var prose, drawn []string
	end := func() {
		if len(prose) > 0 {
			out = append(out, block{rows: styled(nil, wrap(strings.Join(prose, " "), w, 0))})
		}
		for _, part := range unfold(drawn, w) {
			out = append(out, block{rows: styled(&t.Text, part), gap: true})
		}
		prose, drawn = nil, nil
	}
	for _, row := range strings.Split(text, "\n") {
		row = say(strings.TrimRight(row, " "))
		switch drawing := strings.HasPrefix(row, " ") || strings.Contains(row, "  "); {
		case row == "" && len(drawn) == 0:
			end()
		case row == "", drawing:
			if len(prose) > 0 {
				end()
			}
			drawn = append(drawn, row)
		default:
			if len(drawn) > 0 {
				end()
			}
			prose = append(prose, row)
		}
	}
	end()
	return out
}

// unfold is a drawing in parts of at most w cells, where its columns come apart: what is left behind a gap stands below.
func unfold(rows []string, w int) (out [][]string) {
	rows = atMargin(rows)
	wide := widest(rows)
	if wide <= w {
		if len(rows) > 0 {
			out = append(out, rows)
		}
		return out
	}
	for at := min(w, wide-1); at > 0; at-- { // the last gap that leaves as much as fits before it
		if !blankAt(rows, at) || !blankAt(rows, at-1) {
			continue
		}
		left, right := make([]string, len(rows)), make([]string, len(rows))
		for i, r := range rows {
			cells := []rune(r)
			left[i] = strings.TrimRight(string(cells[:min(at, len(cells))]), " ")
			right[i] = string(cells[min(at, len(cells)):])
		}
		return append(unfold(left, w), unfold(right, w)...)
	}
	return append(out, rows)
}

// atMargin takes blank rows at both ends and the blank columns before a drawing away.
func atMargin(rows []string) []string {
	for len(rows) > 0 && strings.TrimSpace(rows[0]) == "" {
		rows = rows[1:]
	}
	for len(rows) > 0 && strings.TrimSpace(rows[len(rows)-1]) == "" {
		rows = rows[:len(rows)-1]
	}
	for len(rows) > 0 && blankAt(rows, 0) {
		out := make([]string, len(rows))
		for i, r := range rows {
			out[i] = strings.TrimPrefix(r, " ")
		}
		rows = out
	}
	return rows
}

func blankAt(rows []string, at int) bool {
	for _, r := range rows {
		if cells := []rune(r); at < len(cells) && cells[at] != ' ' {
			return false
		}
	}
	return true
}

func widest(rows []string) (w int) {
	for _, r := range rows {
		w = max(w, ansi.StringWidth(r))
	}
	return w
}

func rowsOf(all []block) (n int) {
	for _, b := range all {
		n += len(b.rows)
	}
	return n
}

// drawnRows are blocks below one another, with a blank row where a drawing begins.
func drawnRows(all []block) (out []string) {
	for i, b := range all {
		if i > 0 && b.gap {
			out = append(out, "")
		}
		for _, l := range b.rows {
			out = append(out, l.drawn())
		}
	}
	return out
}
