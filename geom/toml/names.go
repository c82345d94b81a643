package toml

import "github.com/pelletier/go-toml/v2/unstable"

// names are those that a text has given so far, and what each may still become (TOML 1.0, "Keys", "Table", "Array of Tables").
type names struct {
	root  *named
	in    *named // the table that the walk is in
	fresh int    // of the parts of the last key at the top, how many stood there already
}

// named is what stands under a name.
type named struct {
	form   form
	headed bool // by a header of its own, not only on the way to another
	by     int  // what made it what it is: its place among the idle; -1: it is none of them
	within map[string]*named
}

// form is what a name stands for.
type form int

const (
	table  form = iota
	tables      // one of several
	dotted      // a table by a key with points in it
	value
)

// put gives a name to something within another.
func (n *named) put(name string, is *named) *named {
	if n.within == nil {
		n.within = map[string]*named{}
	}
	n.within[name] = is
	return is
}

// table enters the table of a header. It returns what stands there already where that must not be.
func (n *names) table(path []string, several bool, by int) (clash *named) {
	at := n.root
	n.fresh = len(path)
	for i, name := range path {
		next, last := at.within[name], i == len(path)-1
		switch {
		case next == nil:
			n.fresh = min(n.fresh, i)
			next = at.put(name, &named{headed: last, by: by})
			if last && several {
				next.form = tables
			}
		case last && several && next.form == tables:
			next.within = nil
		case last && !several && next.form == table && !next.headed:
			next.headed, next.by = true, by
		case last || next.form == value:
			return next
		}
		at = next
	}
	n.in = at
	return nil
}

// key takes a key with its value in the table that the walk is in.
func (n *names) key(path []string, v *unstable.Node, by int) (clash *named) {
	clash, n.fresh = n.pair(n.in, path, v, by)
	return clash
}

// pair takes a key with its value within something. fresh is how many parts of the key stood there already.
func (n *names) pair(at *named, path []string, v *unstable.Node, by int) (clash *named, fresh int) {
	fresh = len(path)
	for i, name := range path {
		next, last := at.within[name], i == len(path)-1
		switch {
		case next == nil:
			fresh = min(fresh, i)
			next = at.put(name, &named{form: dotted, by: by})
		case last || next.form != dotted:
			return next, fresh
		}
		if at = next; last {
			at.form = value
		}
	}
	return n.value(at, v, by), fresh
}

// value takes the keys within a value.
func (n *names) value(at *named, v *unstable.Node, by int) (clash *named) {
	for c := v.Children(); c.Next() && clash == nil; {
		switch {
		case v.Kind == unstable.InlineTable:
			path, _ := place(c.Node())
			clash, _ = n.pair(at, path, c.Node().Value(), by)
		case v.Kind == unstable.Array:
			clash = n.value(&named{form: value, by: by}, c.Node(), by)
		}
	}
	return clash
}
