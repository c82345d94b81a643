package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
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
	first := true
	for line := 1; in.Scan(); line++ {
		text := strings.TrimSpace(strings.TrimPrefix(in.Text(), "\ufeff"))
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		fields := splitPair(text)
		if first && len(fields) >= 2 && isHeader(fields) {
			first = false
			continue
		}
		first = false
		if len(fields) != 2 {
			return nil, fmt.Errorf("%s:%d: %d columns in %.60q, need two: %s", name, line, len(fields), text, columns)
		}
		var p pair
		for i, into := range []*float64{&p.a, &p.b} {
			v, err := geom.ParseNumber(fields[i])
			if err != nil {
				return nil, fmt.Errorf("%s:%d: %w", name, line, err)
			}
			*into = v
		}
		if out = append(out, p); len(out) > maxReadings {
			return nil, fmt.Errorf("%s:%d: more than %d readings", name, line, maxReadings)
		}
	}
	if err := in.Err(); err != nil {
		if errors.Is(err, bufio.ErrTooLong) {
			return nil, fmt.Errorf("%s: a line of more than 1 MiB, need two numbers a line", name)
		}
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return out, nil
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
