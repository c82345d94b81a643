package job

import (
	"bytes"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"example.org/trammel/geom/toml"
)

// Lost is a line of a file that could not be taken over, from 1. Of a comment only the odd bytes are lost, which no such file may hold.
type Lost struct {
	Line    int
	Text    string
	Comment bool
}

// mending is a machine's file that is put right by answers: what can be read of it stays as it is, byte for byte, what cannot
// becomes a comment, and what is answered stands where the wrong line did, or behind the rest of its table.
type mending struct {
	lines []string
	at    map[string]int // the keys and tables of the lines, from 1
	open  map[string]int // the lines of the keys that are wrong: they are answered, and read no more
	asked []string       // the keys that are wrong, or missing
	lost  []Lost
	torn  []string // the slides whose tables are among the lost: all of them is asked
}

// MendMachine asks for what is wrong, or missing, in a machine's file; nothing else is asked, and nothing else of the file changes but
// for the lines that are lost, which nobody can read: they stay as comments. nameTaken says that its name is another's.
func MendMachine(f Facts, text []byte, nameTaken bool) (q Asking, lost []Lost) {
	m := &mending{lines: strings.Split(string(bytes.TrimPrefix(text, []byte(byteOrderMark))), "\n"), open: map[string]int{}}
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
	for i, line := range m.lines {
		if strings.HasPrefix(strings.TrimLeft(line, " \t"), "#") {
			m.clean(i + 1)
		}
	}
	for tries := 0; m.read() && m.drop(rows); tries++ {
		if tries == mostDrops || len(text) > mostMended {
			m.loseAll()
		}
	}
	if nameTaken && !slices.Contains(m.asked, "name") {
		m.asked = append(m.asked, "name")
	}
	q = MachineQuestions(Facts{Taken: f.Taken, Unit: f.Unit})
	q.given.mend, q.given.said = m, m.said(rows)
	for key, line := range m.open {
		if !slices.ContainsFunc(q.form.rows(&q.given), func(p placed) bool { return p.path() == key }) { // a ring of other slides
			m.lose(line)
			delete(m.open, key)
			m.asked = slices.DeleteFunc(m.asked, func(k string) bool { return k == key })
		}
	}
	m.close()
	q.given.said = m.said(rows)
	slices.SortStableFunc(m.lost, func(a, b Lost) int { return a.Line - b.Line })
	return q, m.lost
}

// ofSlide is the head of a slide's table, whole or not.
var ofSlide = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^\[\s*slide\s*\.\s*"?(\w+)`)
})

// shut are the lines without those that are answered.
func (m *mending) shut() []byte {
	lines := slices.Clone(m.lines)
	for _, line := range m.open {
		lines[line-1] = ""
	}
	return []byte(strings.Join(lines, "\n"))
}

// read finds the keys of the lines; ok is false where there is nothing to read.
func (m *mending) read() (ok bool) {
	m.at = toml.LinesOf(m.shut(), keyPath)
	return slices.ContainsFunc(m.lines, m.holds)
}

// holds reports whether a line holds more than a comment.
func (m *mending) holds(line string) bool {
	line = strings.Trim(line, " \t\r")
	return line != "" && line[0] != '#'
}

// drop takes the first line out that nobody can read, or that goes against the rest, as a comment; or those of keys that are wrong, to be
// asked. ok is false where there is none, and the keys that are missing are put down.
func (m *mending) drop(rows map[string]bool) (ok bool) {
	for key, line := range m.open {
		if m.at[key] > 0 { // it is there a second time: that one is read now
			m.lose(line)
			delete(m.open, key)
			return true
		}
	}
	m.asked = slices.Collect(maps.Keys(m.open))
	wrong := len(m.open)
	_, err := ParseMachine("", m.shut())
	for _, e := range all(err) {
		own := m.at[e.Key]
		inline := m.at[tableOf(e.Key)]
		switch {
		case strings.Contains(e.Why, "in comment") && e.Line > 0 && m.clean(e.Line):
			return true
		case strings.Contains(e.Why, "already") && e.Line > 0: // said twice: the later one goes
			m.lose(m.twice(e))
			return true
		case rows[e.Key] && own == 0 && inline > 0 && !m.heads(inline):
			m.lose(inline) // nothing can be put into a table on one line
			return true
		case rows[e.Key] && own == 0 && e.Line == toml.Lines(m.at).Near(e.Key, "."):
			if m.open[e.Key] == 0 {
				m.asked = append(m.asked, e.Key)
			}
		case rows[e.Key] && e.Line == own && m.opens(e.Key, own) && (inline == 0 || m.form(e.Key, own)[1] == ""):
			m.open[e.Key] = own
		case e.Key == "slide" && own == 0: // no slide at all: which there are is asked
		default:
			m.lose(m.held(e.Line))
			return true
		}
	}
	return len(m.open) > wrong
}

// twice is the line that goes where something is said twice: the later one, but of a table's keys that stand before it, one by one, they.
func (m *mending) twice(e *Error) int {
	line := e.Line
	if strings.Contains(e.Why, "dotted key") {
		for key, at := range toml.LinesOf([]byte(strings.Join(m.lines[:e.Line-1], "\n")), keyPath) {
			if strings.HasPrefix(key, e.Key+".") {
				line = min(line, at)
			}
		}
	}
	return line
}

// close puts the lines that are answered where the rest of the keys are. What still would not be read, whatever is answered, is no
// machine's file: all of it is lost.
func (m *mending) close() {
	maps.Copy(m.at, m.open)
	var some []written
	for _, key := range m.asked {
		some = append(some, written{key: key, toml: "0"})
	}
	for _, name := range m.torn {
		if table := "slide." + name; m.at[table] == 0 {
			some = append(some, written{key: table + ".any", toml: "0"})
		}
	}
	var form map[string]any
	if all, _, _ := toml.Decode(m.text(some), &form); len(all) > 0 {
		m.loseAll()
		m.read()
	}
}

// loseAll makes a comment of every line.
func (m *mending) loseAll() {
	m.open = map[string]int{}
	for i := range m.lines {
		m.lose(i + 1)
	}
	m.asked, m.torn = nil, nil // which slides there are is asked first
}

// clean replaces what no comment may hold; ok is false where there is nothing of it.
func (m *mending) clean(line int) (ok bool) {
	was := strings.TrimSuffix(m.lines[line-1], "\r")
	end := m.lines[line-1][len(was):]
	if line == len(m.lines) {
		end = ""
	}
	is := strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' || r == 0x7f {
			return utf8.RuneError
		}
		return r
	}, was)
	if is+end == m.lines[line-1] {
		return false
	}
	m.lost = append(m.lost, Lost{line, was, true})
	m.lines[line-1] = is + end
	return true
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

// mostDrops bounds how often a file is read again without some line, and mostMended its bytes: of one with more mistakes, or more in it,
// all is asked.
const (
	mostDrops  = 40
	mostMended = 1 << 16
)

// heads reports whether a line begins a table.
func (m *mending) heads(line int) bool {
	return strings.HasPrefix(strings.TrimSpace(m.lines[line-1]), "[")
}

// form finds, on a key's line, the tables that stand before its last part, and its value; nil where it is in no form that is known.
func (m *mending) form(key string, line int) []string {
	return regexp.MustCompile(`([^=#"'\s{,]*?)["']?` + regexp.QuoteMeta(lastPart(key)) +
		`["']?\s*=\s*("[^"]*"|'[^']*'|\[[^\]]*\]|[^\s#,}]*)`).FindStringSubmatch(m.lines[line-1])
}

// opens reports whether an answer can take the place of a line: it is that of one key, and begins with it.
func (m *mending) opens(key string, line int) bool {
	found := m.form(key, line)
	return m.alone(line) && found != nil && strings.HasPrefix(strings.TrimSpace(m.lines[line-1]), found[0])
}

// beside is where a key can stand whose table has no head: behind the last line of the same table; 0 for none.
func (m *mending) beside(table string) (key string, line int) {
	for k, at := range m.at {
		if tableOf(k) == table && at > line && m.opens(k, at) {
			key, line = k, at
		}
	}
	return key, line
}

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
	table := m.heads(line)
	for key, at := range m.at {
		rest, in := strings.CutPrefix(key, "slide.")
		if name, _, _ := strings.Cut(rest, "."); in && at == line && !table && slices.Contains(slideNames, name) {
			m.torn = append(m.torn, name) // it may have been the last that says that there is one
		}
	}
	for i := line - 1; i < len(m.lines); i++ {
		if i >= line && (!table || strings.HasPrefix(strings.TrimSpace(m.lines[i]), "[")) {
			return
		}
		if head := ofSlide().FindStringSubmatch(strings.TrimSpace(m.lines[i])); head != nil && slices.Contains(slideNames, head[1]) {
			m.torn = append(m.torn, head[1])
		}
		if m.holds(m.lines[i]) {
			m.lost = append(m.lost, Lost{i + 1, strings.TrimSuffix(m.lines[i], "\r"), false})
			m.lines[i] = notTaken(m.lines[i])
		}
	}
}

// notTaken is a line that is lost, as a comment.
func notTaken(line string) string {
	return "# not taken over: " + printable(strings.TrimSuffix(line, "\r"))
}

// said are the values that can be read, by their keys, and which slides there are.
func (m *mending) said(rows map[string]bool) map[string]Given {
	out := map[string]Given{}
	for key, line := range m.at {
		if !rows[key] || slices.Contains(m.asked, key) {
			continue
		}
		found := m.form(key, line)
		g := Given{Key: key, Typed: Unknown, toml: quote(Unknown)} // it has a value, which no question leans on
		if found != nil && found[2] != "" {
			g.toml = strings.ReplaceAll(found[2], "'", `"`)
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
	for _, line := range m.open { // one that can be left out may be answered with nothing
		lines[line-1] = notTaken(lines[line-1])
	}
	behind := map[int][]string{} // what is put behind a line, from 1; 0 for the beginning
	var tables []string
	more := map[string][]string{}
	for _, w := range all {
		line := strings.TrimPrefix(w.key, tableOf(w.key)+".") + " = " + w.toml
		if w.note != "" {
			line += " # " + w.note
		}
		table := tableOf(w.key)
		near, at := m.beside(table)
		switch own, head := m.at[w.key], m.at[table]; {
		case own > 0:
			if found := m.form(w.key, own); found != nil {
				line = found[1] + line
			}
			lines[own-1] = line
		case table == "":
			behind[0] = append(behind[0], line)
		case head > 0:
			behind[head] = append(behind[head], line)
		case at > 0:
			behind[at] = append(behind[at], m.form(near, at)[1]+line)
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
