// Command proof makes the page of what was measured: it runs what a list names, each once, reads the figures off what that says, and
// writes a table per subject with what each is counted from, what it is compared with in the same run, the ratio, and whether it meets
// what is claimed. What falls short stands first.
//
//	go run .ci/proof/main.go [-few] [-only TEXT] [-o FILE] .ci/proof/list
//
// With -few it runs only what has a short form, in that form, and makes no page: it looks whether every figure of these can be read,
// and whether the page has a row for every figure of the list. PYTHON names a Python that has numpy. Exit 1 where a figure could not be
// read; one that falls short is no fault of the run.
//
// The list holds blocks, divided by empty lines; a line that begins with # is a remark, one that begins with ## a subject:
//
//	run NAME COMMAND       by bash; what it says on either output is read. $WORK is a folder for what it writes
//	few NAME COMMAND       its short form
//
//	== what is measured
//	from NAME
//	see REGEXP             its group is the figure; of two groups the first is so many of the second, added up, and the figure is in %
//	take least|most        of several; without it there must be one
//	by NUMBER              what the figure is multiplied by
//	unit UNIT
//	of TEXT                what it is counted from; of two groups the count stands before it
//	beside WORDS: REGEXP   or WORDS = NUMBER: what it is compared with
//	claim at most NUMBER   or at least NUMBER
package main

import (
	"bytes"
	"flag"
	"fmt"
	"log"
	"os"
	"os/exec"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"time"
)

// source is a command, and what it said.
type source struct {
	command, few string
	ran          bool
	said         string
	failed       error
	took         time.Duration
}

// figure is one row of the page.
type figure struct {
	subject, name, from, take, unit, of string
	see                                 *regexp.Regexp
	words                               string // of what it is compared with
	beside                              *regexp.Regexp
	published                           string // in its place a number
	most                                bool   // the claim is a most, or else a least
	claim                               string
	by                                  float64 // what the figure is multiplied by; 0: nothing
	line                                int
}

func main() {
	log.SetFlags(0)
	log.SetPrefix("proof: ")
	few := flag.Bool("few", false, "the short forms, and no page")
	only := flag.String("only", "", "only the figures with this `text` in their subject, name or source; the page goes to the output")
	page := flag.String("o", ".ci/proof/figures.md", "the page's `file`")
	flag.Parse()
	if flag.NArg() != 1 {
		log.Fatal("need the list")
	}
	list, err := os.ReadFile(flag.Arg(0))
	must(err)
	sources, all := read(string(list))
	work, err := os.MkdirTemp("", "proof")
	must(err)
	defer os.RemoveAll(work)
	unread := 0
	if *few {
		unread = missing(*page, all)
	}
	all = slices.DeleteFunc(all, func(f figure) bool {
		return *few && sources[f.from].few == "" || !strings.Contains(strings.Join([]string{f.subject, f.name, f.from}, " "), *only)
	})
	var table, short strings.Builder
	began, commit, subject := time.Now(), standing(), "" // before a page is made
	for _, f := range all {
		s := sources[f.from]
		s.run(f.from, work, *few)
		if f.subject != subject {
			subject = f.subject
			fmt.Fprintf(&table, "\n## %s\n\n| what | figure | counted from | compared with | ratio | claimed | |\n|---|---|---|---|---|---|---|\n", subject)
		}
		row, falls, err := f.row(s)
		if err != nil {
			unread++
			fmt.Printf("NOT READ: list:%d: %s: %v\n", f.line, f.name, err)
			row = fmt.Sprintf("| %s | not measured: %v | | | | | |", f.name, err)
		}
		if falls != "" {
			fmt.Fprintf(&short, "- %s, %s: %s\n", subject, f.name, falls)
		}
		fmt.Fprintln(&table, row)
	}
	switch text := head(commit, began) + fallen(short.String()) + table.String() + times(sources); {
	case *few:
	case *only != "":
		fmt.Print(text)
	default:
		must(os.WriteFile(*page, []byte(text), 0o644))
	}
	fmt.Printf("%d of %d figures read\n", len(all)-min(unread, len(all)), len(all))
	if unread > 0 || len(all) == 0 {
		os.Exit(1)
	}
}

// run runs the command, once.
func (s *source) run(name, work string, few bool) {
	if s.ran {
		return
	}
	command := s.command
	if few {
		command = s.few
	}
	fmt.Fprintf(os.Stderr, "== %s: %s\n", name, command)
	cmd := exec.Command("bash", "-c", "set -eo pipefail\n"+command)
	cmd.Env = append(os.Environ(), "WORK="+work)
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &said
	begun := time.Now()
	s.failed = cmd.Run()
	s.ran, s.took, s.said = true, time.Since(begun), said.String()
	if s.failed != nil {
		fmt.Fprintf(os.Stderr, "%s\n%v\n", s.said, s.failed)
	}
}

// row is the figure's row, and how it falls short, which is nothing where it does not.
func (f *figure) row(s *source) (row, falls string, err error) {
	if s.failed != nil {
		return "", "", fmt.Errorf("%s failed: %w", f.from, s.failed)
	}
	v, of, err := f.read(f.see, s.said)
	if err != nil {
		return "", "", err
	}
	compared, ratio := f.words, ""
	if f.words != "" {
		with := f.published
		if f.beside != nil {
			if with, _, err = f.read(f.beside, s.said); err != nil {
				return "", "", fmt.Errorf("%s: %w", f.words, err)
			}
		}
		compared += ", " + joined(with, f.unit)
		if y := number(with); y != 0 {
			ratio = strconv.FormatFloat(number(v)/y, 'g', 3, 64)
		}
	}
	claimed, word := "", ""
	if f.claim != "" {
		side := map[bool]string{true: "at most", false: "at least"}[f.most]
		claimed, word = side+" "+joined(f.claim, f.unit), "met"
		if number(v) != number(f.claim) && number(v) > number(f.claim) == f.most {
			word, falls = "**falls short**", fmt.Sprintf("%s, claimed %s", joined(v, f.unit), claimed)
		}
	}
	counted := strings.TrimSpace(of + " " + f.of)
	return fmt.Sprintf("| %s | %s | %s | %s | %s | %s | %s |", f.name, joined(v, f.unit), counted, compared, ratio, claimed, word), falls, nil
}

func joined(v, unit string) string { return strings.TrimSpace(v + " " + unit) }

// read is the figure that an expression sees, and of two groups the sum of the second.
func (f *figure) read(see *regexp.Regexp, said string) (v, of string, err error) {
	found := see.FindAllStringSubmatch(said, -1)
	switch {
	case len(found) == 0:
		return "", "", fmt.Errorf("nothing that looks like %s", see)
	case see.NumSubexp() == 2:
		a, b := 0.0, 0.0
		for _, m := range found {
			a, b = a+number(m[1]), b+number(m[2])
		}
		return strconv.FormatFloat(100*a/b, 'f', 2, 64), strconv.FormatFloat(b, 'f', 0, 64), nil
	case len(found) > 1 && f.take == "":
		return "", "", fmt.Errorf("%d that look like %s, and it is not said which", len(found), see)
	}
	slices.SortStableFunc(found, func(a, b []string) int {
		if number(a[1]) < number(b[1]) {
			return -1
		}
		return 1
	})
	v = found[0][1]
	if f.take == "most" {
		v = found[len(found)-1][1]
	}
	if f.by != 0 {
		v = strconv.FormatFloat(f.by*number(v), 'g', 3, 64)
	}
	return v, "", nil
}

func number(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	must(err)
	return v
}

// standing is the commit that is measured.
func standing() string {
	out, err := exec.Command("git", "describe", "--always", "--exclude", "*", "--dirty=, with changes").Output()
	if err != nil {
		return "unknown"
	}
	return strings.TrimSpace(string(out))
}

// head says on what it was measured.
func head(commit string, began time.Time) string {
	load := ""
	if text, err := os.ReadFile("/proc/loadavg"); err == nil {
		load = ", load at its end " + strings.Fields(string(text))[1]
	}
	return fmt.Sprintf("# What was measured\n\nMade by `go run .ci/proof/main.go .ci/proof/list`: %s, %s, %s/%s, %d cores, commit %s, "+
		"%.0f minutes%s.\n\nThe ratio is the figure over what it is compared with, in the same run. Programs' times have the machine's other work "+
		"in them; ratios have less of it.\n", time.Now().UTC().Format(time.DateOnly), runtime.Version(), runtime.GOOS, runtime.GOARCH,
		runtime.NumCPU(), commit, time.Since(began).Minutes(), load)
}

func fallen(short string) string {
	if short == "" {
		short = "- nothing\n"
	}
	return "\n## What falls short of what is claimed\n\n" + short
}

// times says what was run, and how long that took.
func times(sources map[string]*source) string {
	var b strings.Builder
	b.WriteString("\n## What was run\n\n")
	names := make([]string, 0, len(sources))
	for name, s := range sources {
		if s.ran {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(&b, "- %s, %.0f s: `%s`\n", name, sources[name].took.Seconds(), sources[name].command)
	}
	return b.String()
}

// missing says which figures the page has no row for, and how many.
func missing(page string, all []figure) (n int) {
	text, err := os.ReadFile(page)
	must(err)
	for _, f := range all {
		if !strings.Contains(string(text), "\n| "+f.name+" | ") {
			n++
			fmt.Printf("%s has no row %q: make it anew\n", page, f.name)
		}
	}
	return n
}

// read reads the list.
func read(list string) (sources map[string]*source, all []figure) {
	sources = map[string]*source{}
	subject := ""
	for i, line := range strings.Split(list, "\n") {
		word, rest, _ := strings.Cut(line, " ")
		if word == "" || line[0] == '#' && word != "##" {
			continue
		}
		need := func(is bool, want string) {
			if !is {
				log.Fatalf("list:%d: %q: need %s", i+1, line, want)
			}
		}
		expression := func(text string) *regexp.Regexp {
			x, err := regexp.Compile("(?m)" + text) // each ^ and $ is a line's
			need(err == nil && (x.NumSubexp() == 1 || x.NumSubexp() == 2), "an expression with one group, or two")
			return x
		}
		need(rest != "", "what the word is for behind it")
		switch word {
		case "##":
			subject = rest
		case "run", "few":
			name, command, _ := strings.Cut(rest, " ")
			need(command != "", "a name and a command")
			if word == "run" {
				need(sources[name] == nil, "a name that is new")
				sources[name] = &source{command: command}
			} else {
				need(sources[name] != nil, "the name of a command before it")
				sources[name].few = command
			}
		case "==":
			all = append(all, figure{subject: subject, name: rest, line: i + 1})
		default:
			need(len(all) > 0, "== with what is measured before it")
			all[len(all)-1].set(word, rest, need, expression)
		}
	}
	for i := range all {
		f := &all[i]
		if sources[f.from] == nil || f.see == nil {
			log.Fatalf("list:%d: %s: need from, with the name of a command, and see", f.line, f.name)
		}
		if f.see.NumSubexp() == 2 {
			f.unit = "%"
		}
	}
	return sources, all
}

// set takes a line of a figure's block.
func (f *figure) set(word, rest string, need func(bool, string), expression func(string) *regexp.Regexp) {
	switch word {
	case "from":
		f.from = rest
	case "see":
		f.see = expression(rest)
	case "take":
		need(rest == "least" || rest == "most", "least or most")
		f.take = rest
	case "unit":
		f.unit = rest
	case "by":
		f.by = number(rest)
	case "of":
		f.of = rest
	case "beside":
		if words, published, is := strings.Cut(rest, " = "); is {
			f.words, f.published = words, published
			return
		}
		words, text, is := strings.Cut(rest, ": ")
		need(is, "words, a colon and an expression, or words, = and a number")
		f.words, f.beside = words, expression(text)
	case "claim":
		least, isLeast := strings.CutPrefix(rest, "at least ")
		most, isMost := strings.CutPrefix(rest, "at most ")
		need(isLeast || isMost, "at least or at most, and a number")
		f.most, f.claim = isMost, most
		if isLeast {
			f.claim = least
		}
	default:
		need(false, "run, few, ==, from, see, take, by, unit, of, beside or claim")
	}
}

func must(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
