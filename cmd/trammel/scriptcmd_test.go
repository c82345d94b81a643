package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"
)

// scriptCommands are what the scripts know beyond the usual commands:
//
//	exits CODE PROGRAM ARG…        runs it and wants that very exit code, and with it, unless it
//	                               is 0, an error and a hint
//	field LINE PATH WANT [TOL]     a field of a JSON line on standard output; LINE is a say word,
//	                               "fit:2" for the second such line, or . for the only line
//	says WORD…                     the say words of all lines, in order; ask*3 stands for three
//	harmless stdout|stderr…        nothing in it could drive a terminal
//	bytes FILE GO-STRING           writes a file with the bytes of a Go string literal
//	tear FILE N                    cuts N bytes off the end of a file
//	cut FILE N                     keeps the first N lines of a file
//	flip FILE LINE                 changes one bit in the middle of a line
//	swap FILE OLD NEW              replaces a text that occurs once; an empty NEW takes it out
//	long FILE N                    writes one line of N digits
//	badname VAR                    a file name that could drive a terminal, into $VAR
//	named VAR PATTERN              the one file that matches, into $VAR
var scriptCommands = map[string]func(*testscript.TestScript, bool, []string){
	"exits": scriptExits, "field": scriptField, "says": scriptSays, "harmless": scriptHarmless,
	"bytes": scriptBytes, "tear": scriptTear, "flip": scriptFlip, "named": scriptNamed,
	"badname": scriptBadName, "cut": scriptCut, "long": scriptLong, "swap": scriptSwap,
}

// usage stops a script that uses a command wrongly.
func usage(ts *testscript.TestScript, neg bool, ok bool, form string) {
	if neg || !ok {
		ts.Fatalf("usage: %s", form)
	}
}

func scriptExits(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) >= 2, "exits CODE PROGRAM ARG...")
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
	// Whoever is told no is told what to do, on lines that a script can tell apart.
	complaints := ts.ReadFile("stderr")
	for _, line := range strings.Split(strings.TrimSuffix(complaints, "\n"), "\n") {
		if complaints != "" && !strings.HasPrefix(line, "trammel: ") {
			ts.Fatalf("complaint %q, want it to begin with the program's name", line)
		}
	}
	if want != exitDone && !(strings.Contains(complaints, "trammel: error: ") && strings.Contains(complaints, "\ntrammel: hint: ")) {
		ts.Fatalf("exit code %d with the complaint %q, want an error and a hint", got, complaints)
	}
}

// sayLine is one line of --json output.
type sayLine map[string]any

// sayLines decodes --json output: one object a line, nothing else.
func sayLines(out string) ([]sayLine, error) {
	var all []sayLine
	for i, text := range strings.Split(strings.TrimSuffix(out, "\n"), "\n") {
		if out == "" {
			break
		}
		d := json.NewDecoder(strings.NewReader(text))
		var l sayLine
		if err := d.Decode(&l); err != nil {
			return nil, fmt.Errorf("line %d %q: %w", i+1, text, err)
		}
		if d.More() {
			return nil, fmt.Errorf("line %d %q: more than one object", i+1, text)
		}
		all = append(all, l)
	}
	return all, nil
}

// pick returns the line that LINE stands for.
func pick(all []sayLine, line string) (sayLine, error) {
	if line == "." {
		if len(all) != 1 {
			return nil, fmt.Errorf("%d lines, want one", len(all))
		}
		return all[0], nil
	}
	word, nth, _ := strings.Cut(line, ":")
	n := 1
	if nth != "" {
		var err error
		if n, err = strconv.Atoi(nth); err != nil {
			return nil, err
		}
	}
	seen := 0
	for _, l := range all {
		if l["say"] == word {
			if seen++; seen == n {
				return l, nil
			}
		}
	}
	return nil, fmt.Errorf("%d lines say %q, want at least %d", seen, word, n)
}

// dig follows a path like moves.0.divisions; len is the length of a list.
func dig(v any, path string) (any, error) {
	for _, step := range strings.Split(path, ".") {
		switch x := v.(type) {
		case sayLine:
			next, ok := x[step]
			if !ok {
				return nil, fmt.Errorf("no field %q", step)
			}
			v = next
		case map[string]any:
			next, ok := x[step]
			if !ok {
				return nil, fmt.Errorf("no field %q", step)
			}
			v = next
		case []any:
			if step == "len" {
				v = float64(len(x))
				continue
			}
			i, err := strconv.Atoi(step)
			if err != nil || i < 0 || i >= len(x) {
				return nil, fmt.Errorf("no element %q in a list of %d", step, len(x))
			}
			v = x[i]
		default:
			return nil, fmt.Errorf("%v has no field %q", v, step)
		}
	}
	return v, nil
}

func scriptField(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) == 3 || len(args) == 4, "field LINE PATH WANT [TOL]")
	all, err := sayLines(ts.ReadFile("stdout"))
	ts.Check(err)
	l, err := pick(all, args[0])
	ts.Check(err)
	got, err := dig(l, args[1])
	if err != nil {
		ts.Fatalf("%s %s: %v", args[0], args[1], err)
	}
	if len(args) == 3 {
		if s := fmt.Sprint(got); s != args[2] && (got != nil || args[2] != "null") {
			ts.Fatalf("%s %s is %s, want %s", args[0], args[1], s, args[2])
		}
		return
	}
	want, err1 := strconv.ParseFloat(args[2], 64)
	tol, err2 := strconv.ParseFloat(args[3], 64)
	if err := errors.Join(err1, err2); err != nil {
		ts.Fatalf("%v", err)
	}
	x, ok := got.(float64)
	if !ok || !(math.Abs(x-want) <= tol) {
		ts.Fatalf("%s %s is %v, want %v ± %v", args[0], args[1], got, want, tol)
	}
}

func scriptSays(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) > 0, "says WORD...")
	var want []string
	for _, a := range args {
		word, times, many := strings.Cut(a, "*")
		n := 1
		if many {
			var err error
			n, err = strconv.Atoi(times)
			ts.Check(err)
		}
		for range n {
			want = append(want, strings.Split(word, "+")...)
		}
	}
	all, err := sayLines(ts.ReadFile("stdout"))
	ts.Check(err)
	var got []string
	for _, l := range all {
		got = append(got, fmt.Sprint(l["say"]))
	}
	if !slices.Equal(got, want) {
		ts.Fatalf("the lines say\n\t%s\nwant\n\t%s", strings.Join(got, " "), strings.Join(want, " "))
	}
}

// harmful finds the first thing in an output that could drive a terminal: a control of ASCII or
// of C1 (ECMA-48, 5.2 and 5.3) but for the line feed, a byte that is no UTF-8, or a sign that
// turns the writing direction (Unicode Standard Annex 9, 2.1 to 2.5).
func harmful(out string) (string, bool) {
	for i, r := range out {
		switch {
		case r == '\n':
		case r < 0x20, r >= 0x7f && r <= 0x9f:
			return fmt.Sprintf("%U at byte %d", r, i), true
		case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0x200e, r == 0x200f, r == 0x061c:
			return fmt.Sprintf("%U at byte %d", r, i), true
		}
	}
	return "bytes that are no UTF-8", !utf8.ValidString(out)
}

func scriptHarmless(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) > 0, "harmless stdout|stderr...")
	for _, name := range args {
		if what, bad := harmful(ts.ReadFile(name)); bad {
			ts.Fatalf("%s holds %s", name, what)
		}
	}
}

func scriptBytes(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) == 2, "bytes FILE GO-STRING")
	text, err := strconv.Unquote(args[1])
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o600))
}

func scriptTear(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) == 2, "tear FILE N")
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	size := len(ts.ReadFile(args[0]))
	ts.Check(os.Truncate(ts.MkAbs(args[0]), int64(size-n)))
}

func scriptCut(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) == 2, "cut FILE N")
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	lines := strings.SplitAfter(ts.ReadFile(args[0]), "\n")
	if n >= len(lines) {
		ts.Fatalf("%s has %d lines, want more than %d", args[0], len(lines)-1, n)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Join(lines[:n], "")), 0o600))
}

func scriptFlip(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) == 2, "flip FILE LINE")
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	lines := bytes.SplitAfter([]byte(ts.ReadFile(args[0])), []byte("\n"))
	if n < 1 || n > len(lines) || len(lines[n-1]) < 40 {
		ts.Fatalf("%s has no line %d to change", args[0], n)
	}
	lines[n-1][len(lines[n-1])/2] ^= 1
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), bytes.Join(lines, nil), 0o600))
}

func scriptBadName(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) == 1, "badname VAR")
	ts.Setenv(args[0], "bad\x1b[31m\x07\u009b2J\x7f\u202e.toml")
}

func scriptNamed(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) == 2, "named VAR PATTERN")
	found, err := filepath.Glob(ts.MkAbs(args[1]))
	ts.Check(err)
	if len(found) != 1 {
		ts.Fatalf("%d files match %s, want one: %q", len(found), args[1], found)
	}
	ts.Setenv(args[0], found[0])
}

func scriptLong(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) == 2, "long FILE N")
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), bytes.Repeat([]byte("1"), n), 0o600))
}

func scriptSwap(ts *testscript.TestScript, neg bool, args []string) {
	usage(ts, neg, len(args) == 3, "swap FILE OLD NEW")
	text := ts.ReadFile(args[0])
	if n := strings.Count(text, args[1]); n != 1 {
		ts.Fatalf("%q occurs %d times in %s, want once", args[1], n, args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, args[1], args[2], 1)), 0o600))
}
