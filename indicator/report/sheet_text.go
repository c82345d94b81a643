package report

import (
	"fmt"

	"example.org/trammel/indicator/record"
)

// Name is the section's heading: "setting 2: swing radius 19.000 mm".
func (c *SheetSection) Name() string {
	if c.N == 0 {
		return c.Title
	}
	again := ""
	if c.Again {
		again = ", again"
	}
	return fmt.Sprintf("setting %d%s: %s %s", c.N, again, c.Title, c.Swing)
}

// Words are the cautions that belong to the section.
func (c *SheetSection) Words() []string {
	switch {
	case c.N == 1 && !c.Again:
		return append(append([]string{SheetBeforeDial, SheetBeforeCut}, record.CautionsOn(record.Care{}, record.OnSheet)...),
			c.Holds...)
	case c.N > 0:
		return append([]string{SheetAgain}, c.Holds...)
	case len(c.Lines) > 0:
		return []string{SheetStraights}
	}
	return nil
}

// Where is where the axis goes: the readout, and on a table the cross slides.
func (a *SheetArc) Where() string {
	if a.Cross != "" {
		return "cross slides to " + a.Cross
	}
	return a.Readout
}

// Laid is how the table and the slide stand.
func (l *SheetLine) Laid() string {
	switch {
	case l.Ring != "":
		return "table " + l.Table + ", ring " + l.Ring + ", " + l.Slide
	case l.Table != "":
		return "table " + l.Table + ", " + l.Slide
	}
	return l.Slide
}

func (a *SheetArc) text(put func(...string)) {
	for _, f := range a.First {
		put("  ! ", f)
	}
	put(fmt.Sprintf("  %s %d (%s): cutter %s, radius %s, %s", a.What, a.N, a.Layer, a.Cutter, a.Radius, a.Metal))
	where := "    centre at readout " + a.Readout
	if a.Cross != "" {
		where = "    " + a.Where()
	}
	put(where)
	for _, c := range a.Care {
		put("    ! ", c)
	}
	put("    ! ", a.Swung)
	for _, r := range a.Places {
		put("    ", r.Words())
	}
	for _, c := range a.Cut {
		put("    ", c)
	}
	for _, e := range a.Ends {
		put("    ", e)
	}
	if a.Stops != "" {
		put("    ", a.Stops)
	}
	if a.Frees != "" {
		put("    ! ", a.Frees)
	}
	put("    radius ", sheetMeasured, "   ", sheetInitials)
}

func (l *SheetLine) text(put func(...string)) {
	for _, f := range l.First {
		put("  ! ", f)
	}
	put(fmt.Sprintf("  straight %d (%s): cutter %s", l.N, l.Layer, l.Cutter))
	put("    ", l.Run)
	if w := l.Laid(); w != "" {
		put("    ", w)
	}
	for _, c := range l.Cut {
		put("    ", c)
	}
	for _, e := range l.Ends {
		put("    ", e)
	}
	if l.Frees != "" {
		put("    ! ", l.Frees)
	}
	put("    ", sheetMeasured, "   ", sheetInitials)
}
