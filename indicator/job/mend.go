package job

import (
	"bytes"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"example.org/trammel/geom/toml"
)

// Lost is a line of a file that could not be taken over, from 1.
type Lost struct {
	Line int
	Text string
}

// mending is a machine's file that is put right by answers: what can be read of it stays as it is, byte for byte, what cannot
// becomes a comment, and what is answered stands where the wrong line did, or behind the rest of its table.
type mending struct {
	lines []string
	at    map[string]int // the keys and tables of the lines, from 1
	asked []string       // the keys that are wrong, or missing
	lost  []Lost
	torn  []string // the slides whose tables are among the lost: all of them is asked
}

// MendMachine asks for what is wrong, or missing, in a machine's file; nothing else is asked, and nothing else of the file changes but
// for the lines that are lost, which nobody can read: they stay as comments. nameTaken says that its name is another's.
func MendMachine(f Facts, text []byte, nameTaken bool) (q Asking, lost []Lost) {
	m := &mending{lines: strings.Split(string(bytes.TrimPrefix(text, []byte(byteOrderMark))), "\n")}
	rows := map[string]bool{}
	for _, r := range machineAsks {
		rows[r.key] = r.key != slidesKey
	}
	for _, name := range slideNames {
		for _, r := range slideAsks {
			rows["slide."+name+"."+r.key] = true
		}
	}
	for _, t := range rings {
		for _, r := range ringAsks {
			rows[t.table+"."+r.key] = true
		}
	}
	for m.read() && m.drop(rows) {
	}
	if nameTaken && !slices.Contains(m.asked, "name") {
		m.asked = append(m.asked, "name")
	}
	q = MachineQuestions(Facts{Taken: f.Taken, Unit: f.Unit})
	q.given.mend, q.given.said = m, m.said(rows)
	slices.SortFunc(m.lost, func(a, b Lost) int { return a.Line - b.Line })
	return q, m.lost
}

// ofSlide is the head of a slide's table, whole or not.
var ofSlide = regexp.MustCompile(`^\[\s*slide\s*\.\s*"?(\w+)`)

// read finds the keys of the lines; ok is false where there is nothing to read.
func (m *mending) read() (ok bool) {
	text := []byte(strings.Join(m.lines, "\n"))
	m.at = toml.LinesOf(text, keyPath)
	return slices.ContainsFunc(m.lines, m.holds)
}

// holds reports whether a line holds more than a comment.
func (m *mending) holds(line string) bool {
	line = strings.TrimSpace(line)
	return line != "" && line[0] != '#'
}

// drop makes a comment of the first line that nobody can read, or that goes against the rest; ok is false where there is none. The keys
// that are wrong or missing, and are asked, it puts down.
func (m *mending) drop(rows map[string]bool) (ok bool) {
	m.asked = nil
	_, err := ParseMachine("", []byte(strings.Join(m.lines, "\n")))
	for _, e := range all(err) {
		own := m.at[e.Key]
		inline := m.at[tableOf(e.Key)]
		switch {
		case strings.Contains(e.Why, "already") && e.Line > 0: // said twice: the later one goes
			m.lose(e.Line)
			return true
		case rows[e.Key] && own == 0 && inline > 0 && !strings.HasPrefix(strings.TrimSpace(m.lines[inline-1]), "["):
			m.lose(inline) // nothing can be put into a table on one line
			return true
		case rows[e.Key] && (own == 0 || m.alone(own)):
			m.asked = append(m.asked, e.Key)
		case e.Key == "slide" && own == 0: // no slide at all: which there are is asked
		case len(m.lost) > mostLost: // this is no machine's file
			for i := range m.lines {
				m.lose(i + 1)
			}
			return true
		default:
			m.lose(m.held(e.Line))
			return true
		}
	}
	return false
}

// held is the line that is wrong: the one that is named, or the last before it that holds anything, for what is left open there shows
// farther down; the last of all where none is named.
func (m *mending) held(line int) int {
	if line == 0 || line > len(m.lines) {
		line = len(m.lines)
	}
	for i := line; i > 0; i-- {
		if m.holds(m.lines[i-1]) {
			return i
		}
	}
	return 1 + slices.IndexFunc(m.lines, m.holds) // there is one: else nothing was read
}

// mostLost bounds how often a file is read again without a line.
const mostLost = 200

// alone reports whether one key, and no other, stands on a line.
func (m *mending) alone(line int) bool {
	n := 0
	for _, at := range m.at {
		if at == line {
			n++
		}
	}
	return n == 1
}

// lose makes a comment of a line and, where it begins a table, of all in the table: its keys would be another's.
func (m *mending) lose(line int) {
	table := strings.HasPrefix(strings.TrimSpace(m.lines[line-1]), "[")
	for i := line - 1; i < len(m.lines); i++ {
		if i >= line && (!table || strings.HasPrefix(strings.TrimSpace(m.lines[i]), "[")) {
			return
		}
		if head := ofSlide.FindStringSubmatch(strings.TrimSpace(m.lines[i])); head != nil && slices.Contains(slideNames, head[1]) {
			m.torn = append(m.torn, head[1])
		}
		if m.holds(m.lines[i]) {
			was := strings.TrimSuffix(m.lines[i], "\r")
			m.lost = append(m.lost, Lost{i + 1, was})
			m.lines[i] = "# not taken over: " + printable(was)
		}
	}
}

// said are the values that can be read, by their keys, and which slides there are.
func (m *mending) said(rows map[string]bool) map[string]Given {
	out := map[string]Given{}
	for key, line := range m.at {
		if !rows[key] || slices.Contains(m.asked, key) {
			continue
		}
		found := regexp.MustCompile(regexp.QuoteMeta(lastPart(key)) + `"?\s*=\s*("[^"]*"|'[^']*'|\[[^\]]*\]|[^\s#,}]+)`).
			FindStringSubmatch(m.lines[line-1])
		g := Given{Key: key, Typed: Unknown, toml: quote(Unknown)} // it has a value, which no question leans on
		if found != nil {
			g.toml = strings.ReplaceAll(found[1], "'", `"`)
			g.Typed = strings.Trim(g.toml, `"`)
		}
		out[key] = g
	}
	var slides []string
	for _, name := range slideNames {
		in := func(key string) bool { return tableOf(key) == "slide."+name }
		if m.at["slide."+name] > 0 || slices.Contains(m.torn, name) || slices.ContainsFunc(m.asked, in) ||
			slices.ContainsFunc(slices.Collect(maps.Keys(out)), in) {
			slides = append(slides, name)
		}
	}
	if len(slides) > 0 {
		out[slidesKey] = Given{Key: slidesKey, Typed: strings.Join(slides, " ")}
	}
	return out
}

// wants reports whether a key is asked: one that is wrong or missing, or anything of slides that were not known.
func (m *mending) wants(a *answers, key string) bool {
	name, _ := strings.CutPrefix(tableOf(key), "slide.")
	whole := slices.Contains(m.torn, name) && m.at["slide."+name] == 0
	return whole || slices.Contains(m.asked, key) || key == slidesKey || a.own(slidesKey) != nil
}

// text is the file with what is answered in it.
func (m *mending) text(all []written) []byte {
	lines := slices.Clone(m.lines)
	behind := map[int][]string{} // what is put behind a line, from 1; 0 for the beginning
	var tables []string
	more := map[string][]string{}
	for _, w := range all {
		line := strings.TrimPrefix(w.key, tableOf(w.key)+".") + " = " + w.toml
		if w.note != "" {
			line += " # " + w.note
		}
		table := tableOf(w.key)
		switch own, head := m.at[w.key], m.at[table]; {
		case own > 0:
			lines[own-1] = line
		case table == "":
			behind[0] = append(behind[0], line)
		case head > 0:
			behind[head] = append(behind[head], line)
		default:
			if more[table] == nil {
				tables = append(tables, table)
			}
			more[table] = append(more[table], line)
		}
	}
	out := slices.Clone(behind[0])
	for i, line := range lines {
		out = append(append(out, line), behind[i+1]...)
	}
	for len(tables) > 0 && len(out) > 0 && out[len(out)-1] == "" {
		out = out[:len(out)-1]
	}
	for _, t := range tables {
		out = append(append(out, "", fmt.Sprintf("[%s]", t)), more[t]...)
	}
	return []byte(strings.TrimRight(strings.Join(out, "\n"), "\n") + "\n")
}
