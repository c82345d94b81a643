package lines

import "strings"

// Word is a word of the trade, or of this program, and what it means here.
type Word struct{ Name, Means string }

// Words are in the order of the alphabet.
var Words = []Word{
	{"assumed exact", "Nobody has said how right a figure is, so it is taken as it stands. Every answer that leans on it says so. " +
		"See: stated."},
	{"backlash", "What a handle turns without its slide moving, when it changes its way. Take it up, and it does no harm."},
	{"bearing", "A direction in degrees, anticlockwise from X to the right, seen from above. 90° is away from you."},
	{"blend", "The place where one arc or straight of the outline runs into the next. The step left there is what the setting's " +
		"errors make."},
	{"carried", "A set-up: the indicator rides round with the swung spindle, and the reference stands still."},
	{"centre error", "How far, and towards where, the middle of the reference lies from the axis. The cross slides take it away."},
	{"chord", "The straight distance between two points of an arc. With the sagitta it gives the arc's radius."},
	{"closing reading", "The first station, read once more at the end of a sweep. If it has changed, something moved meanwhile."},
	{"collar", "The graduated ring on a handwheel."},
	{"cross slides", "The two slides that bring the centre in: the machine's own under a head, or those that carry the work on a " +
		"table."},
	{"doubt", "The figure behind ±. In 95 of 100 cases the true value lies no farther from the one shown."},
	{"head axis", "The line that the offset head swings about; with a rotary table, the line that the table turns about."},
	{"inside", "The tolerance holds even with the doubt added."},
	{"job", "What is to be set: the reference, the indicator, the target and its tolerance. It stands in the job file."},
	{"journal", "The file in which everything that you enter is written before it is shown. Nothing is ever taken out of it."},
	{"offset slide", "The slide that sets the swing radius; with a rotary table, the machine slide that does."},
	{"outside", "The tolerance fails even with the doubt taken off."},
	{"parked", "Said of the head or the table: left standing at one place while a slide is wound."},
	{"parked reading", "What the dial is to show when a slide has come to its goal, with the head or the table parked at one place " +
		"and you watching the needle."},
	{"part", "One workpiece. One setting may serve several, one after the other."},
	{"pass", "One cut along the arc at one depth. A deep cut takes several, each deeper than the one before."},
	{"points", "A set-up: the wall is touched at some places, and each point is read from the readouts."},
	{"reach", "The distance from the cutter spindle's axis to the indicator's tip when the dial reads zero. + away from the head " +
		"axis, − towards it."},
	{"reading", "What the dial shows, with its sign. It grows as the tip is pressed; with " +
		`pressed = "falls" in the job file it falls.`},
	{"readout", "The display of a slide's coordinate, counted by a scale on the slide and not by the handle."},
	{"reference", "The round thing that is swept: a bore or ring, a boss or plug, of a radius that is known."},
	{"ring", "The graduated ring that shows the angle of the head or of the table."},
	{"runout", "How much the dial moves in all while the thing turns once (total indicator reading). The centre error is half of " +
		"it, where nothing else is wrong."},
	{"sagitta", "How high an arc stands over its chord's middle."},
	{"sense", "Which way round: of a cut, the way in which the cutter does not grab; of a slide, what a turn of its handle does."},
	{"settled", "Nothing is left to wind. It waits to be accepted, swept again, or left."},
	{"spring pass", "The last pass once more, nothing wound: it takes off what the cutter has sprung away."},
	{"stated", "Somebody has said how far a figure may be off, be it 0. See: assumed exact."},
	{"station", "One place round the circle where it is read."},
	{"stock", "Metal left on for the last cut, so that the arc can be measured first."},
	{"stop", "Where an arc's swing ends, as the ring shows it."},
	{"sweep", "One round of readings. A circle is fitted to all of them together."},
	{"swing radius", "From the head axis to the axis of the cutter spindle. The arc is larger or smaller by half the cutter."},
	{"table angle", "How far a rotary table stands turned anticlockwise from its zero, seen from above."},
	{"take-up", "Backing off and coming up again, so that the last movement always goes one way and the backlash always lies on " +
		"one side."},
	{"tangent point", "Where a straight leaves an arc without a corner: it stands square to the line from the arc's middle."},
	{"tap", "A light knock with a soft hammer that drives loose work over the table, where no slide carries it."},
	{"tilt", "How much the reference, or the spindle, leans: a sweep at another height shows it."},
	{"trial", "A sweep, and the winds that follow it. The second trial looks at what the first has done."},
	{"turned", "A set-up: the indicator stands still, and the rotary table turns the reference past it."},
	{"turning point", "Rock the free cutter spindle, and the needle climbs, stands and goes back. Where it turns, the tip lies on " +
		"the line through the axis."},
	{"undecided", "The doubt reaches over the edge of the tolerance: neither inside nor outside can be said."},
	{"wind", "One instruction for one handwheel: which slide, which way, how many turns and divisions, where it ends."},
	{"witness mark", "A line drawn across two parts that are locked together. If they slip, it is broken."},
}

// Text is the word with what it means.
func (w Word) Text() string { return w.Name + ": " + w.Means }

// WordsText are all words as the text of a page: a point each.
func WordsText() string {
	var b strings.Builder
	for _, w := range Words {
		b.WriteString("- " + w.Text() + "\n")
	}
	return b.String()
}

// WordLines are the words as they are said where they are asked for.
func WordLines() (out []HelpLine) {
	for _, w := range Words {
		out = append(out, HelpLine{"help", w.Text()})
	}
	return out
}
