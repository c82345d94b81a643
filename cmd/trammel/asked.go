package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
)

// mostTyped bounds an answer, characters.
const mostTyped = 4096

// readLine reads one line and nothing behind it: whoever reads on after the questions has it all. Of a line that is too long its
// beginning is read, and the rest is passed over. io.EOF is the end before any of it.
func readLine(in io.Reader) (string, error) {
	var line []byte
	var one [1]byte
	for {
		n, err := in.Read(one[:])
		switch {
		case n == 1 && one[0] == '\n':
			return strings.TrimSuffix(string(line), "\r"), nil
		case n == 1 && len(line) <= mostTyped:
			line = append(line, one[0])
		case n == 1:
		case errors.Is(err, io.EOF) && len(line) > 0:
			return string(line), nil
		case err != nil:
			return "", err
		}
	}
}

// news is what there is to tell of the answers so far, each once.
type news func(job.Asking) []lines.Line

// noNews is what most questions have to tell.
func noNews(job.Asking) []lines.Line { return nil }

// askInLines asks question by question, one answer a line. done is false where the input ends before the last answer, or the
// person leaves. What is answered is kept after each answer that is taken, or taken back; before each question what there is to
// tell of the answers so far is told.
func askInLines(w world, c *common, q job.Asking, k *keeper, tell news) (all job.Asking, done bool, err error) {
	for {
		for _, l := range tell(q) {
			if err := say(w, c, l); err != nil {
				return q, false, err
			}
		}
		now, more := q.Next()
		if !more {
			return q, true, nil
		}
		if err := say(w, c, record.Asked(&now)); err != nil {
			return q, false, err
		}
		typed, err := readLine(w.in)
		if errors.Is(err, io.EOF) || err == nil && strings.TrimSpace(typed) == "quit" {
			k.left(w, q)
			return q, false, nil
		}
		if err != nil {
			return q, false, withHint(fmt.Errorf("standard input: %w", err), "nothing is written; begin again")
		}
		changed := false
		if q, changed, err = answered(w, c, q, typed); err != nil {
			return q, false, err
		}
		if changed {
			if err := k.keep(q); err != nil {
				tellUnkept(w, err)
			}
		}
	}
}

// answered carries out one line, and says whether an answer is taken, or taken back. A refusal is said, and the question stays.
func answered(w world, c *common, q job.Asking, typed string) (now job.Asking, changed bool, err error) {
	switch word := strings.TrimSpace(typed); {
	case len(typed) > mostTyped:
		typed, err = typed[:40]+"…", fmt.Errorf("more than %d characters, need an answer", mostTyped)
	case word == job.Explain:
		return q, false, say(w, c, lines.HelpLine{Say: "help", Said: q.Help()})
	case word == job.Back:
		now, err = q.Back()
	default:
		now, err = q.Answer(typed)
	}
	if err != nil {
		return q, false, say(w, c, lines.Refused(typed, err))
	}
	return now, true, nil
}
