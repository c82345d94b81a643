package practice

import (
	"bytes"
	_ "embed" // for the drawing
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/indicator/session"
)

// Lesson is one of a short course on a simulated machine, by its number from 1. The zero value is none.
type Lesson int

// lessonRow is one lesson: what is aimed at, what is wrong with its machine, and what is learnt from it.
type lessonRow struct {
	title string
	aim   []string
	seed  uint64
	trap  Trap
	// misreads is at which of their readings the simulated hands misread the dial, from 1; 0: at none.
	misreads int
	// remind says at that station what the person is to do there; empty for nothing.
	remind string
	plate  bool // the arcs of LessonPlate are set, one after the other
	learns []learning
}

// learning is what is learnt where something has been done, by the events of what was done; open is what is left where it has not.
type learning struct {
	words, open string
	done        func([]session.Event) bool
}

var lessons = []lessonRow{
	{
		title: "read, fit, and wind against backlash",
		aim: []string{
			"The axis stands off the middle of the bore, and the swing radius is not 42 mm yet. Bring both in.",
			"Read the dial at each station; Enter alone takes what the drawn dial shows.",
			"Then wind each slide as the page says: back off, come up, stop where it says.",
			"Sweep once more to see what it came to, and accept.",
		},
		seed: 7,
		learns: []learning{
			{"A circle through the readings gives the swing radius and the centre error, each with how sure it is.",
				"no sweep was closed", some[session.Swept]},
			{"Coming up to the mark from one side leaves the backlash behind; a wind under the needle needs no collar.",
				"no wind was made", some[session.Wound]},
			{"What the winds came to is seen by the next sweep alone; it is accepted by that.",
				"nothing was accepted", some[session.Accepted]},
		},
	},
	{
		title: "a misread, and a wrong statement",
		aim: []string{
			"At station 4 misread the dial on purpose: type 0.1 mm more than it shows. See whether it is named; then type it right.",
			"And something is wrong with the machine's file: a handle moves its slide the other way than it says.",
			"Wind as you are told. Where a sign is asked about, Enter has the hands check it and say what the needle did.",
			"Put right what is left in question, by its number, and bring the setting in.",
		},
		seed: 15, trap: XHandleTrap, misreads: 4, remind: "now misread it: type ten divisions too much, 0.1 mm more than the dial shows",
		learns: []learning{
			{"A reading that no circle goes through is named by its station, before anything is wound by it.",
				"no reading was named: type one that is 0.1 mm off", some[session.Doubted]},
			{"The needle shows a handle that is stated wrong, and the check of a sign decides which it is. " +
				"Put right here is put right for this setting; the machine's file is yours to correct.",
				"nothing was put right", some[session.Restated]},
			{"Behind both the setting comes in as any other.", "nothing was accepted", some[session.Accepted]},
		},
	},
	{
		title: "a plate from its drawing",
		aim: []string{
			"The drawing shows a link with two ends of radius 38 mm, each about a bore of 60 mm that is there already.",
			"The plan says what swing radius the cutter of 8 mm needs, where to start, which way to swing and where to stop.",
			"The plate is 6 mm thick: the steps behind an accepted setting take each arc down in passes.",
			"Choose an arc and set it as before, with the steps before and behind; then come back to the plan for the other one.",
		},
		seed: 13, plate: true,
		learns: []learning{
			{"The plan turns an arc's radius into a swing radius, by the cutter and the side that the metal is on.",
				"no arc was chosen", some[session.Opened]},
			{"An arc of a drawing is set like any other: only the target comes from the plan.",
				"no arc was accepted", some[session.Accepted]},
			{"Arcs of one swing radius still need each its own centre: the bore that it goes about is swept anew.",
				"not both arcs are set", func(all []session.Event) bool { return arcsSet(all) > 1 }},
			{"An arc goes down in passes, each told with its depth, its start and its stop; the last wind comes behind the measurement.",
				"no pass was cut: they come behind an accepted setting", passed},
		},
	},
}

// LessonPlate is the drawing of the third lesson, which is called LessonPlateName.
//
//go:embed lesson-plate.toml
var LessonPlate []byte

// LessonPlateName is the file that the drawing would be.
const LessonPlateName = "link.toml"

func count[E session.Event](all []session.Event) (n int) {
	for _, e := range all {
		if _, ok := e.(E); ok {
			n++
		}
	}
	return n
}

func some[E session.Event](all []session.Event) bool { return count[E](all) > 0 }

// passed reports whether a pass was cut.
func passed(all []session.Event) bool {
	return slices.ContainsFunc(all, func(e session.Event) bool {
		w, ok := e.(session.Worked)
		return ok && w.Step == session.Pass && !w.Skipped
	})
}

// arcsSet is how many arcs of a drawing were accepted, each counted once.
func arcsSet(all []session.Event) int {
	now, set := 0, map[int]bool{}
	for _, e := range all {
		switch e := e.(type) {
		case session.Opened:
			if e.Arc != nil {
				now = e.Arc.N
			}
		case session.Accepted:
			set[now] = true
		}
	}
	return len(set)
}

// Course are the lessons in their order.
func Course() (all []Lesson) {
	for i := range lessons {
		all = append(all, Lesson(i+1))
	}
	return all
}

// ParseLesson reads the number of a lesson.
func ParseLesson(text string) (Lesson, error) {
	if n, err := strconv.Atoi(text); err == nil && slices.Contains(Course(), Lesson(n)) {
		return Lesson(n), nil
	}
	var need []string
	for _, l := range Course() {
		need = append(need, fmt.Sprintf("%d (%s)", l, l.Title()))
	}
	last := len(need) - 1
	return 0, fmt.Errorf("%q, need %s or %s", text, strings.Join(need[:last], ", "), need[last])
}

func (l Lesson) row() *lessonRow { return &lessons[l-1] }

func (l Lesson) String() string { return strconv.Itoa(int(l)) }

// Title says what the lesson is about.
func (l Lesson) Title() string { return l.row().title }

// Aim says what is to be done in it, a sentence or two a line.
func (l Lesson) Aim() []string { return l.row().aim }

// Seed draws its machine, where nobody asks for another one.
func (l Lesson) Seed() uint64 { return l.row().seed }

// Trap is what its machine's files do not say, or say wrong.
func (l Lesson) Trap() Trap { return l.row().trap }

// Plate reports whether the arcs of [LessonPlate] are set in it.
func (l Lesson) Plate() bool { return l.row().plate }

// Lay has the hands of a machine do what the lesson asks of them.
func (l Lesson) Lay(m *Machine) { m.misreads = l.row().misreads }

// Reminder is what the person is to do now by what the lesson aims at; empty where that is nothing but what is asked.
func (l Lesson) Reminder(s *session.State) string {
	if p := s.Prompt(); p.Waits != session.ForReading || s.Doubt != nil || s.Trial != 1 || p.Reading.Station != l.row().misreads {
		return ""
	}
	return l.row().remind
}

// Learnt is one thing that a lesson is for: what was learnt, or, where it was not done, what is left.
type Learnt struct {
	Words string `json:"words"`
	Done  bool   `json:"done"`
}

// Learnt says by what was done what was learnt.
func (l Lesson) Learnt(done []session.Event) (out []Learnt) {
	for _, x := range l.row().learns {
		if x.done(done) {
			out = append(out, Learnt{x.words, true})
		} else {
			out = append(out, Learnt{x.open, false})
		}
	}
	return out
}

// PlateJob is the job file of an arc of the plate: that of the bench, whose target is the arc's, cut in passes. The bench's own job
// has none: who winds for the first time has enough to confirm behind it.
func PlateJob() []byte {
	return append(without(BenchJob, "swing_radius"), platePasses...)
}

// platePasses are the last keys of the last table of PlateJob, which is the cut's.
const platePasses = `depth = 6.0                 # the plate is as thick as that
step = 3.0                  # as deep as one pass may go
spring = true               # and one more at the full depth, nothing wound
entry = "off the part"      # where the cutter may go down
`

// without is a file without the lines of a key.
func without(file []byte, key string) (out []byte) {
	for line := range bytes.Lines(file) {
		if k, _, _ := bytes.Cut(line, []byte("=")); string(bytes.TrimSpace(k)) != key {
			out = append(out, line...)
		}
	}
	return out
}
