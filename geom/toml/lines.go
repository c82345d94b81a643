package toml

import (
	"bytes"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Part is a step of a key's path: a name, with its number among the tables of that name where it is one of several,
// or, without a name, the number of a table in an array. Numbers count from 1.
type Part struct {
	Name string
	N    int
}

// Entry reports whether a part is a table in an array.
func (p Part) Entry() bool { return p.Name == "" && p.N > 0 }

// Lines are where keys and tables stand, by their paths as a reader spells them.
type Lines map[string]int

// Near is the line of a key or, where it has none of its own, of what it stands in: of its path cut short at the
// last separator. 0 where that has none either.
func (l Lines) Near(key, separator string) int {
	line := l[key]
	for line == 0 && strings.Contains(key, separator) {
		key = key[:strings.LastIndex(key, separator)]
		line = l[key]
	}
	return line
}

// LinesOf finds the keys and tables of a text, as far as it can be read. What is spelled as nothing is left out; of
// what is spelled alike, the last stands. A table in an array stands where its first key does.
func LinesOf(text []byte, spell func(path []Part) string) Lines {
	f := finder{lines: Lines{}, spell: spell, text: text, row: 1}
	f.Reset(text)
	count := map[string]int{}
	var table []Part
	for f.NextExpression() {
		switch e := f.Expression(); e.Kind {
		case unstable.Table:
			table = f.path(nil, e)
			f.note(table, e)
		case unstable.ArrayTable:
			table = f.path(nil, e)
			last := &table[len(table)-1]
			count[last.Name]++
			last.N = count[last.Name]
			f.note(table, e)
		case unstable.KeyValue:
			f.pair(table, e)
		default: // a comment
		}
	}
	return f.lines
}

// finder is a parser that notes where it meets what.
type finder struct {
	unstable.Parser
	lines Lines
	spell func([]Part) string
	text  []byte
	past  int // what was counted last, byte
	row   int // its line, from 1
}

// line is that of a byte. It counts on from the last one: the parser counts from the beginning, which in a long text takes seconds.
func (f *finder) line(at int) int {
	if at < f.past {
		f.past, f.row = 0, 1
	}
	f.row += bytes.Count(f.text[f.past:at], []byte("\n"))
	f.past = at
	return f.row
}

// path is that of a key in what it stands in.
func (f *finder) path(in []Part, e *unstable.Node) []Part {
	path := in[:len(in):len(in)]
	for k := e.Key(); k.Next(); {
		path = append(path, Part{Name: string(k.Node().Data)})
	}
	return path
}

// note puts a path on the line of a key.
func (f *finder) note(path []Part, e *unstable.Node) {
	if key, spelled := e.Key(), f.spell(path); spelled != "" && key.Next() {
		f.lines[spelled] = f.line(int(key.Node().Raw.Offset))
	}
}

// pair notes a key and what stands in its value.
func (f *finder) pair(in []Part, e *unstable.Node) {
	path := f.path(in, e)
	f.note(path, e)
	switch value := e.Value(); value.Kind {
	case unstable.InlineTable:
		f.pairs(path, value)
	case unstable.Array:
		n := 0
		for c := value.Children(); c.Next(); {
			if c.Node().Kind == unstable.InlineTable {
				n++
				entry := append(path[:len(path):len(path)], Part{N: n})
				if first := c.Node().Children(); first.Next() && first.Node().Kind == unstable.KeyValue {
					f.note(entry, first.Node())
				}
				f.pairs(entry, c.Node())
			}
		}
	default: // a value without keys
	}
}

func (f *finder) pairs(in []Part, table *unstable.Node) {
	for c := table.Children(); c.Next(); {
		if c.Node().Kind == unstable.KeyValue {
			f.pair(in, c.Node())
		}
	}
}
