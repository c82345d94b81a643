package job

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator/setup"
)

// rawDepth is what a file says of how deep an arc is cut.
type rawDepth struct {
	Depth  *float64 `toml:"depth"`
	Step   *float64 `toml:"step"`
	Spring *bool    `toml:"spring"`
	Entry  *string  `toml:"entry"`
}

// depth reads how deep the arc is cut, and in which steps.
func (f *file) depth(r *rawDepth, j *setup.Job, c *setup.Cut) {
	c.Depth = length(j.Unit, f.number("cut.depth", r.Depth, 0, positive, "above 0: from the top of the stock to the floor of this cut"))
	c.Step = length(j.Unit, f.number("cut.step", r.Step, 0, positive, "above 0: as deep as one pass may go"))
	c.Spring = r.Spring != nil && *r.Spring
	if c.Depth > 0 && !geom.DepthFits(c.Depth) {
		f.fail("cut.depth", "", "%v %v, need %v to %v %v",
			show(j, c.Depth), j.Unit, j.Unit.From(geom.LeastDepth), j.Unit.From(geom.MostDepth),
			j.Unit)
	}
	const needs = "from the top of the stock to the floor of this cut"
	switch {
	case !f.fine("cut.depth", "cut.step"): // what is wrong with them is told
	case r.Depth != nil && r.Step == nil:
		f.fail("cut.step", "as deep as one pass may go: the depth itself where one pass cuts it", "missing, needed with depth")
	case r.Depth == nil && r.Step != nil:
		f.fail("cut.depth", needs, "missing, needed with step")
	case r.Depth == nil && c.Spring:
		f.fail("cut.depth", needs, "missing, needed with spring")
	case r.Depth == nil && r.Entry != nil:
		f.fail("cut.depth", needs, "missing, needed with entry")
	case c.Step > c.Depth:
		f.fail("cut.step", "the depth itself cuts it in one pass", "%v %v, need at most the depth of %v %v", show(j, c.Step), j.Unit,
			show(j, c.Depth), j.Unit)
	case c.Depth > 0 && c.Passes() == nil:
		f.fail("cut.step", "is a decimal point out of place?", "%v %v makes more than %d passes of a depth of %v %v, need fewer",
			show(j, c.Step), j.Unit, setup.MostPasses, show(j, c.Depth), j.Unit)
	}
	if r.Entry == nil {
		return
	}
	var known bool
	if c.Entry, known = setup.WayInOf(*r.Entry); !known {
		f.fail("cut.entry", "where the cutter may go down to the depth of a pass; left out where nobody knows yet", "%q, need %s", *r.Entry,
			setup.WayInWords())
	}
}

// depth is what a file says of it.
func (w *writer) depth(c *setup.Cut) (r rawDepth) {
	r.Depth, r.Step = w.above(c.Depth), w.above(c.Step)
	if c.Spring {
		r.Spring = &c.Spring
	}
	if row, said := c.Entry.Row(); said {
		r.Entry = &row.Word
	}
	return r
}

// depth puts the drawing's depth in the place of the file's, with the drawing's way to it; where the cutter may go down the file
// says itself, else the drawing proposes it. Nothing where the drawing says no depth.
func (a *Figures) depth(r *rawDepth, u geom.Unit) {
	if a.Depth == 0 {
		return
	}
	depth, step := u.From(a.Depth), u.From(a.Step)
	r.Depth, r.Step, r.Spring = &depth, &step, &a.Spring
	if row, known := a.Entry.Row(); known && r.Entry == nil {
		r.Entry = &row.Word
	}
}
