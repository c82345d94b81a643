package setup

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// WayIn is where the cutter may go down to the depth of a pass, of a job that says so.
type WayIn string

// The places where it may; their texts are the journals' and never change.
const (
	WayInUnsaid WayIn = ""
	WayInWaste  WayIn = "waste"
	WayInOff    WayIn = "off"
	WayInHole   WayIn = "hole"
)

// WayInRow is what is known of such a place: its word in a file and in an answer, and where that is.
type WayInRow struct {
	WayIn WayIn
	Word  string
	Means string
}

var waysIn = []WayInRow{
	{WayInWaste, "waste", "in the waste"},
	{WayInOff, "off the part", "off the part"},
	{WayInHole, "hole", "in the drilled hole"},
}

// WaysIn are all places where the cutter may go down.
func WaysIn() []WayInRow { return slices.Clone(waysIn) }

// WayInOf is the place of a file's word; ok is false of a word that is none.
func WayInOf(word string) (w WayIn, ok bool) {
	i := slices.IndexFunc(waysIn, func(r WayInRow) bool { return r.Word == word })
	if i < 0 {
		return WayInUnsaid, false
	}
	return waysIn[i].WayIn, true
}

// Row is what is known of the place; ok is false where nobody said it.
func (w WayIn) Row() (r WayInRow, ok bool) {
	if i := slices.IndexFunc(waysIn, func(r WayInRow) bool { return r.WayIn == w }); i >= 0 {
		return waysIn[i], true
	}
	return r, false
}

// WayInWords lists the words of a file, as what is needed.
func WayInWords() string {
	words := make([]string, len(waysIn))
	for i, r := range waysIn {
		words[i] = r.Word
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// MostPasses is how many passes a cut may be made in: more is a slip of the point.
const MostPasses = 100

// wholePass is the share of a step by which a depth may be beyond so many of them for what its unit has rounded.
const wholePass = 1e-9

// Passes are the depths of the cutting passes, millimetres from the top of the stock: in even steps, none larger than Step, the
// last exactly Depth. It is nil of nil, and where no depth is stated. A spring pass goes over the last of them again and is none
// of its own.
func (c *Cut) Passes() []float64 {
	if c == nil || !(c.Depth > 0) || !(c.Step > 0) || c.Depth/c.Step > MostPasses+wholePass {
		return nil
	}
	n := max(1, int(math.Ceil(c.Depth/c.Step-wholePass)))
	out := make([]float64, n)
	for i := range out {
		out[i] = c.Depth * float64(i+1) / float64(n)
	}
	out[n-1] = c.Depth
	return out
}

// checkDepth refuses a depth that no file can have stated.
func (c *Cut) checkDepth() error {
	_, known := c.Entry.Row()
	switch {
	case c.Entry != WayInUnsaid && !known:
		return fmt.Errorf("job: cut.entry %q, need waste, off or hole", c.Entry)
	case c.Depth == 0 && (c.Step != 0 || c.Spring || c.Entry != WayInUnsaid):
		return fmt.Errorf("job: cut.step %v, spring %v, entry %q without a depth, need one", c.Step, c.Spring, c.Entry)
	case c.Depth != 0 && c.Passes() == nil || c.Step > c.Depth:
		return fmt.Errorf("job: cut.depth %v in steps of %v, need 1 to %d of them", c.Depth, c.Step, MostPasses)
	}
	return nil
}
