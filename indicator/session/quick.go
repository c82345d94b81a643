package session

import (
	"bytes"
	"math"
	"strconv"
	"time"
)

// quick reads a line in the very form that [Encode] writes, without encoding/json where the kind is
// a frequent one: a long journal opens several times sooner. Whatever is in another form, or wrong,
// is not ok, and is left to the reading that says why. Held to that reading by FuzzQuick.
func quick(n int, line []byte) (r Record, ok bool) {
	c := cursor{rest: line}
	c.take(`{"v":1,"n":`) // 1 is Version, held by TestQuickReadsGoldens
	number := c.whole()
	c.take(`,"t":"`)
	if c.bad || number != n || len(c.rest) < len(stamp) {
		return r, false
	}
	at, err := quickTime(c.rest[:len(stamp)])
	c.rest = c.rest[len(stamp):]
	c.take(`","k":`)
	kind := c.word()
	c.take(`,"d":`)
	end := len(c.rest) - 1
	if err != nil || c.bad || end < 2 || c.rest[0] != '{' || c.rest[end-1] != '}' || c.rest[end] != '}' {
		return r, false
	}
	row, known := kinds[string(kind)]
	if !known {
		return r, false
	}
	var e Event
	if row.quick != nil {
		e, ok = row.quick(c.rest[:end])
	}
	if !ok {
		if e, err = row.read(c.rest[:end]); err != nil {
			return r, false
		}
	}
	return Record{V: Version, N: n, T: at, Event: e}, true
}

// quickTime is time.Parse for the days that every month has.
func quickTime(b []byte) (time.Time, error) {
	c := cursor{rest: b}
	y, mon := c.figures(4, "-"), c.figures(2, "-")
	d, h, m, s, ms := c.figures(2, "T"), c.figures(2, ":"), c.figures(2, ":"), c.figures(2, "."), c.figures(3, "Z")
	if c.bad || mon < 1 || mon > 12 || d < 1 || d > 28 || h > 23 || m > 59 || s > 59 {
		return time.Parse(stamp, string(b))
	}
	return time.Date(y, time.Month(mon), d, h, m, s, ms*int(time.Millisecond), time.UTC), nil
}

// cursor goes along a line; bad says that it was not as expected, once and for all.
type cursor struct {
	rest []byte
	bad  bool
}

// done reports whether all of it was as expected.
func (c *cursor) done() bool { return !c.bad && len(c.rest) == 0 }

// has passes over s where it stands next.
func (c *cursor) has(s string) bool {
	if len(c.rest) < len(s) || string(c.rest[:len(s)]) != s {
		return false
	}
	c.rest = c.rest[len(s):]
	return true
}

// take passes over s, which must stand next.
func (c *cursor) take(s string) {
	if !c.has(s) {
		c.bad = true
	}
}

// word reads a string of plain letters; it is good until the line is changed.
func (c *cursor) word() []byte {
	c.take(`"`)
	end := bytes.IndexByte(c.rest, '"')
	if c.bad || end < 0 {
		c.bad = true
		return nil
	}
	w := c.rest[:end]
	c.rest = c.rest[end+1:]
	for _, b := range w {
		if b < ' ' || b > '~' || b == '\\' {
			c.bad = true
		}
	}
	return w
}

// digits passes over at least one digit and returns how many there were.
func (c *cursor) digits() int {
	n := 0
	for n < len(c.rest) && c.rest[n] >= '0' && c.rest[n] <= '9' {
		n++
	}
	c.rest = c.rest[n:]
	c.bad = c.bad || n == 0
	return n
}

// figures reads a number of just n digits, and what follows it.
func (c *cursor) figures(n int, then string) int {
	if len(c.rest) < n {
		c.bad = true
		return 0
	}
	v := 0
	for _, b := range c.rest[:n] {
		c.bad = c.bad || b < '0' || b > '9'
		v = 10*v + int(b-'0')
	}
	c.rest = c.rest[n:]
	c.take(then)
	return v
}

// integer passes over what JSON takes for the whole part of a number (RFC 8259, section 6).
func (c *cursor) integer() {
	zero := len(c.rest) > 0 && c.rest[0] == '0'
	if n := c.digits(); zero && n > 1 {
		c.bad = true
	}
}

// whole reads a whole number that is not negative.
func (c *cursor) whole() int {
	from := c.rest
	c.integer()
	n, err := strconv.Atoi(string(from[:len(from)-len(c.rest)]))
	c.bad = c.bad || err != nil
	return n
}

// number reads a number in the form of JSON (RFC 8259, section 6), which is narrower than Go's.
func (c *cursor) number() float64 {
	from := c.rest
	c.has("-")
	c.integer()
	if c.has(".") {
		c.digits()
	}
	if c.has("e") || c.has("E") {
		if !c.has("-") {
			c.has("+")
		}
		c.digits()
	}
	v, err := strconv.ParseFloat(string(from[:len(from)-len(c.rest)]), 64)
	c.bad = c.bad || err != nil || math.Abs(v) > mostNumber
	return v
}

func (c *cursor) numberOrNull() *float64 {
	if c.has("null") {
		return nil
	}
	v := c.number()
	return &v
}
