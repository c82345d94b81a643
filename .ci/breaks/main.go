// Command breaks breaks the program on purpose, one line at a time, and looks whether a test says so.
//
//	go run .ci/breaks/main.go [-run TEXT] [-v] .ci/breaks/list
//
// Nothing is changed in the tree: the compiler is handed the broken file in place of the true one. Of each break the test that
// is named must pass without it, and fail with it; a break that no longer fits the file it is for is an error too. A line per
// break, the sum at the end; exit 1 where one was not caught.
//
// The list holds blocks, divided by empty lines; a line that begins with # is a remark:
//
//	== what is broken, in words
//	in FILE
//	- TEXT            which stands there once; further lines of - go on with it
//	+ TEXT            what stands there then; none takes it away
//	by PACKAGE TEST   the test that must fail; TEST/NAME one of its own tests, as TestScripts/report is a script
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// deliberate is one break. What goes out and what comes in are lines, joined.
type deliberate struct {
	name, file    string
	out, in       []string
	package_, run string
	line          int // of the list
}

func main() {
	log.SetFlags(0)
	log.SetPrefix("breaks: ")
	only := flag.String("run", "", "only the breaks with this `text` in their name, file or test")
	talk := flag.Bool("v", false, "show what the tests said")
	flag.Parse()
	if flag.NArg() != 1 {
		log.Fatal("need the list")
	}
	all, err := read(flag.Arg(0))
	if err != nil {
		log.Fatal(err)
	}
	work, err := os.MkdirTemp("", "breaks")
	if err != nil {
		log.Fatal(err)
	}
	caught, tried := 0, 0
	for _, d := range all {
		if !strings.Contains(strings.Join([]string{d.name, d.file, d.package_, d.run}, " "), *only) {
			continue
		}
		tried++
		began := time.Now()
		said, err := d.try(work)
		word := "caught"
		if err != nil {
			word = "NOT CAUGHT: " + err.Error()
		} else {
			caught++
		}
		fmt.Printf("%-70s %s %s, %.1f s: %s\n", d.name, d.package_, d.run, time.Since(began).Seconds(), word)
		if *talk {
			fmt.Println(said)
		}
	}
	if err := os.RemoveAll(work); err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%d of %d breaks caught\n", caught, tried)
	if caught < tried || tried == 0 {
		os.Exit(1)
	}
}

// try breaks the file and runs the test; the error says why the break was not caught.
func (d deliberate) try(work string) (said string, err error) {
	text, err := os.ReadFile(d.file)
	if err != nil {
		return "", err
	}
	out := strings.Join(d.out, "\n")
	if n := strings.Count(string(text), out); n != 1 {
		return "", fmt.Errorf("line %d of the list: its text stands %d times in %s, need once", d.line, n, d.file)
	}
	broken, overlay := filepath.Join(work, "broken.go"), filepath.Join(work, "overlay.json")
	if err := os.WriteFile(broken, []byte(strings.Replace(string(text), out, strings.Join(d.in, "\n"), 1)), 0o600); err != nil {
		return "", err
	}
	path, err := filepath.Abs(d.file)
	if err != nil {
		return "", err
	}
	places, err := json.Marshal(map[string]map[string]string{"Replace": {path: broken}})
	if err != nil {
		return "", err
	}
	if err := os.WriteFile(overlay, places, 0o600); err != nil {
		return "", err
	}
	if said, ok := d.test(); !ok {
		return said, fmt.Errorf("the test fails, or is none, without the break too")
	}
	said, ok := d.test("-overlay", overlay)
	switch {
	case ok:
		return said, fmt.Errorf("the test passes")
	case !strings.Contains(said, "--- FAIL: ") && !strings.Contains(said, "panic: "):
		return said, fmt.Errorf("the broken program does not build: %s", said)
	}
	return said, nil
}

// test runs the test that is named, and reports whether there is one and it passes.
func (d deliberate) test(flags ...string) (said string, ok bool) {
	run := "^(" + strings.Join(strings.Split(d.run, "/"), ")$/^(") + ")$"
	args := append([]string{"test", "-vet=off", "-v", "-failfast", "-run", run}, flags...)
	text, err := exec.Command("go", append(args, d.package_)...).CombinedOutput()
	return string(text), err == nil && strings.Contains(string(text), "--- PASS: ")
}

// read reads the list.
func read(name string) (all []deliberate, err error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	for i, l := range strings.Split(string(text), "\n") {
		word, rest, _ := strings.Cut(l, " ")
		if word == "" || word[0] == '#' {
			continue
		}
		if word == "==" {
			all = append(all, deliberate{name: rest, line: i + 1})
			continue
		}
		if len(all) == 0 {
			return nil, fmt.Errorf("%s:%d: %q before the first ==", name, i+1, l)
		}
		switch d := &all[len(all)-1]; word {
		case "in":
			d.file = rest
		case "-":
			d.out = append(d.out, rest)
		case "+":
			d.in = append(d.in, rest)
		case "by":
			d.package_, d.run, _ = strings.Cut(rest, " ")
		default:
			return nil, fmt.Errorf("%s:%d: %q, need ==, in, -, + or by", name, i+1, word)
		}
	}
	for _, d := range all {
		if d.file == "" || len(d.out) == 0 || d.package_ == "" || d.run == "" {
			return nil, fmt.Errorf("%s:%d: need a file, what goes out, and the test that must fail", name, d.line)
		}
	}
	return all, nil
}
