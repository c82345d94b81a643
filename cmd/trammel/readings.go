package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/trammel/geom"
)

// pair is one data line: two numbers as they stand in the file.
type pair struct{ a, b float64 }

// maxReadings bounds a file; no sweep has a millionth of it.
const maxReadings = 1_000_000

// readPairs reads lines of two numbers split by comma, semicolon, tab or spaces. Lines that are
// empty or begin with # are passed over, and so is a header: a first line without any number.
// A decimal comma is allowed where the split is not a comma. columns names the two for messages.
func readPairs(r io.Reader, name, columns string) ([]pair, error) {
	in := bufio.NewScanner(r)
	in.Buffer(make([]byte, 0, 64<<10), 1<<20)
	var out []pair
	past := false // the first line that says anything
	for line := 1; in.Scan(); line++ {
		p, is := plainPair(in.Bytes())
		if !is {
			var err error
			if p, is, err = anyPair(in.Text(), &past, columns); err != nil {
				return nil, fmt.Errorf("%s:%d: %w", name, line, err)
			}
		}
		if !is {
			continue
		}
		past = true
		if len(out) == maxReadings {
			return nil, fmt.Errorf("%s:%d: more than %d readings", name, line, maxReadings)
		}
		if len(out) == cap(out) { // append alone grows so slowly here that what it leaves behind is four times the whole
			out = slices.Grow(out, max(64, len(out)))
		}
		out = append(out, p)
	}
	if err := in.Err(); err != nil {
		if errors.Is(err, bufio.ErrTooLong) {
			return nil, fmt.Errorf("%s: a line of more than 1 MiB, need two numbers a line", name)
		}
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return out, nil
}

// plainPair reads a line of two plain numbers (see [geom.PlainNumber]), which is what a file of a million readings is made of.
// Whatever it does not read is for [anyPair]; what it does, that reads alike (FuzzPlainPair).
func plainPair(line []byte) (p pair, ok bool) {
	a, n := geom.PlainNumber(line)
	rest := line[n:]
	if n == 0 || len(rest) == 0 {
		return p, false
	}
	i := 0
	for i < len(rest) && rest[i] == ' ' {
		i++
	}
	if i < len(rest) && (rest[i] == ',' || rest[i] == ';' || rest[i] == '\t') {
		for i++; i < len(rest) && rest[i] == ' '; i++ {
		}
	}
	b, m := geom.PlainNumber(rest[i:])
	return pair{a, b}, i > 0 && m > 0 && i+m == len(rest)
}

// anyPair reads a line in all the forms that are allowed; is reports whether it holds a pair at all. past says that a line
// before it said anything, and is set where this one does.
func anyPair(line string, past *bool, columns string) (p pair, is bool, err error) {
	text := strings.TrimSpace(strings.TrimPrefix(line, "\ufeff"))
	if text == "" || strings.HasPrefix(text, "#") {
		return p, false, nil
	}
	fields := splitPair(text)
	if !*past && len(fields) >= 2 && isHeader(fields) {
		*past = true
		return p, false, nil
	}
	*past = true
	if len(fields) != 2 {
		return p, false, fmt.Errorf("%d columns in %.60q, need two: %s", len(fields), text, columns)
	}
	for i, into := range []*float64{&p.a, &p.b} {
		if *into, err = geom.ParseNumber(fields[i]); err != nil {
			return p, false, err
		}
	}
	return p, true, nil
}

// splitPair finds the split of a line: semicolons or tabs where there are any; else spaces where
// they part the line in two without touching a comma ("0 0,12"); else commas.
func splitPair(text string) []string {
	for _, sep := range []string{";", "\t"} {
		if strings.Contains(text, sep) {
			return trimAll(strings.Split(text, sep))
		}
	}
	words := strings.Fields(text)
	if len(words) == 2 && !strings.HasSuffix(words[0], ",") && !strings.HasPrefix(words[1], ",") {
		return words
	}
	if strings.Contains(text, ",") {
		return trimAll(strings.Split(text, ","))
	}
	return words
}

// trimAll trims every field; a separator at the end of a line makes no further column.
func trimAll(fields []string) []string {
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	if n := len(fields); n > 2 && fields[n-1] == "" {
		return fields[:n-1]
	}
	return fields
}

// isHeader reports whether no field could be meant as a number.
func isHeader(fields []string) bool {
	for _, f := range fields {
		if f == "" || strings.ContainsAny(f[:1], "0123456789+-.,") {
			return false
		}
		if _, err := geom.ParseNumber(f); err == nil {
			return false
		}
	}
	return true
}
