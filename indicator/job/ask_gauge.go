package job

import (
	"strings"

	"example.org/trammel/indicator/gauge"
)

// cableKey is no file's: whether there is an indicator with a cable decides what is asked of it.
const cableKey = "gauge"

// noCable is the answer of whoever reads a dial.
const noCable = "none"

// cableWays are how an indicator with a cable is found, in the words of the answers; what is asked of it then, and the help on that.
var cableWays = []struct {
	words string
	kind  gauge.Kind
	asks  string
	help  string
}{
	{"serial port", gauge.SerialLine, "which serial port the cable indicator is plugged into",
		"An adapter in a USB socket is a serial port too. Plug it in, and look which name is new: COM3, or one below /dev."},
	{"a program", gauge.Program, "which program reads the cable indicator, with what it is called by",
		"Its output is read line by line. The command is split at blanks, and no shell sees it. It is ended with this program."},
	{"a named pipe", gauge.Pipe, "which named pipe the cable indicator's lines come through",
		"mkfifo makes one; whoever reads the indicator writes to it, a line for each figure. There are none on Windows."},
}

func cableWords() choices {
	all := []choice{{words: noCable}}
	for _, w := range cableWays {
		all = append(all, choice{words: w.words, or: string(w.kind)})
	}
	return among(all...)
}

// cable is the way that was answered, by its number; -1 for none.
func cable(a *answers) int {
	typed := a.typed(cableKey)
	for i, w := range cableWays {
		if w.words == typed {
			return i
		}
	}
	return -1
}

func isCable(a *answers, _ string) bool { return cable(a) >= 0 }

// onlyPort is the serial port that is there, where no other is.
func onlyPort(a *answers, _ string) string {
	if i := cable(a); i >= 0 && cableWays[i].kind == gauge.SerialLine && len(a.Ports) == 1 {
		return a.Ports[0]
	}
	return ""
}

func cableHelp() string {
	var all []string
	for _, w := range cableWays {
		all = append(all, w.words+": "+w.help)
	}
	return strings.Join(all, "\n")
}

// cableAsks are asked of an indicator with a cable. What its figures mean is set by looking at what it sends.
var cableAsks = []placed{
	{&asks{key: cableKey, kind: cableWords(), def: says(noCable), text: says("whether an indicator with a cable is read, and how it is found"),
		help: "An indicator that sends its figure saves typing it: the program sees by itself where the needle stands. Readings can be\n" +
			"typed all the same. What it sends, and what that means, is set by looking at it afterwards: trammel gauge."}, ""},
	{&asks{key: "source", kind: sourceKind{}, when: isCable, help: cableHelp(), def: onlyPort,
		text: func(a *answers, _ string) string { return cableWays[max(0, cable(a))].asks }}, cableKey},
	{&asks{key: "mode", kind: among(choice{words: "all the time", toml: `"stream"`, or: "stream"},
		choice{words: "as its button is pressed", toml: `"button"`, or: "button"}), when: isCable, def: says("all the time"),
		text: says("when the cable indicator sends its figure"),
		help: "One that sends all the time is taken where it stands still, with Enter. What one sends as its own button is pressed is a\n" +
			"reading as it comes."}, cableKey},
}

// sourceKind is the name of a source, whose kind is answered before. The serial ports that are there are offered.
type sourceKind struct{}

func (sourceKind) describe(a *answers, q *Question) {
	q.Path = true
	if i := cable(a); i >= 0 && cableWays[i].kind == gauge.SerialLine {
		q.Choices = a.Ports
	}
}

func (sourceKind) read(a *answers, q *Question, text string) (meant, error) {
	i := cable(a)
	if i < 0 {
		return meant{}, unfit("", "no cable indicator is answered for")
	}
	kind := cableWays[i].kind
	source, err := string(kind)+":"+text, error(nil)
	if k, _, wrong := gauge.ParseSource(text); kind == gauge.SerialLine || wrong == nil && k == kind {
		source, err = gauge.PickSource(q.Choices, text)
	}
	k := kind
	if err == nil {
		k, _, err = gauge.ParseSource(source)
	}
	switch {
	case err != nil:
		return meant{}, unfit("", "%v", err)
	case k != kind:
		return meant{}, unfit(Back+" goes to how it is found", "%q is no %s, need one", text, cableWays[i].words)
	}
	return meant{toml: tomlText(source)}, nil
}
