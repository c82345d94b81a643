package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.org/trammel/geom"
)

// value is a flag that takes one kind of thing: what was given, whether anything was, and how a word becomes it.
type value[T any] struct {
	v     T
	set   bool
	name  string                  // where put has put it
	kind  string                  // as help calls what it takes
	unset string                  // as help shows what holds where it is not given; empty: nothing
	read  func(string) (T, error) // refuses with what was seen and what is needed
	text  string                  // as it was given
}

func (f *value[T]) String() string {
	if !f.set {
		return f.unset
	}
	return fmt.Sprint(f.v)
}

func (f *value[T]) Set(s string) error {
	v, err := f.read(s)
	if err != nil {
		return err
	}
	f.v, f.set, f.text = v, true, s
	return nil
}

func (f *value[T]) Type() string { return f.kind }

// or returns what was given, else another.
func (f *value[T]) or(other T) T {
	if f.set {
		return f.v
	}
	return other
}

// typed is what was given, as it was.
func (f *value[T]) typed() string { return f.text }

// given says by which name a flag goes, and whether it was given.
func (f *value[T]) given() (string, bool) { return f.name, f.set }

// put puts a flag on a verb.
func put[T any](cmd *cobra.Command, name, use string, f value[T]) *value[T] {
	f.name = name
	cmd.Flags().Var(&f, name, use)
	return &f
}

// need refuses a verb that lacks a flag.
func need(verb string, flags ...interface{ given() (string, bool) }) error {
	for _, f := range flags {
		if name, given := f.given(); !given {
			return misuse("%s without --%s, need it", verb, name)
		}
	}
	return nil
}

// number takes a decimal number and nothing else.
type number = value[float64]

func anyNumber() number { return number{kind: "number", read: geom.ParseNumber} }

// numberThat takes numbers that are ok.
func numberThat(ok func(float64) bool, need string) number {
	return number{kind: "number", read: func(s string) (float64, error) {
		v, err := geom.ParseNumber(s)
		if err == nil && !ok(v) {
			err = fmt.Errorf("%v, need %s", v, need)
		}
		return v, err
	}}
}

func positive() number {
	return numberThat(func(x float64) bool { return x > 0 }, "a number above 0")
}

func notNegative() number {
	return numberThat(func(x float64) bool { return x >= 0 }, "0 or more")
}

func degrees(lo, hi float64) number {
	return numberThat(func(x float64) bool { return x >= lo && x <= hi }, fmt.Sprintf("%v to %v degrees", lo, hi))
}

// inLength has a number that is a length take a fraction of an inch too. That the unit is the inch is known once all flags are
// read: see [common.fractions].
func inLength(n number) number {
	number := n.read
	n.read = func(s string) (float64, error) {
		if !geom.Fractional(s) {
			return number(s)
		}
		v, err := geom.ParseLength(s, geom.Inch)
		if err != nil {
			return 0, err
		}
		return number(strconv.FormatFloat(v, 'g', -1, 64))
	}
	return n
}

// fractions refuses a fraction where nobody has said that the lengths are inches.
func (c *common) fractions(cmd *cobra.Command) error {
	for name := range strings.FieldsSeq(cmd.Annotations[lengthFlags]) {
		t, ok := cmd.Flag(name).Value.(interface{ typed() string })
		if ok && geom.Fractional(t.typed()) && c.typedIn(cmd) != geom.Inch {
			return withHint(misuse("--%s %s is a fraction, need --unit in: a length in mm has none", name, t.typed()),
				"say --unit in, or type it with a point")
		}
	}
	return nil
}

// notLength refuses what a flag was given in place of lengths: a fraction by what is wrong with it, else by what is needed.
func notLength(flag, text, need string, err error) error {
	if err != nil && geom.Fractional(text) {
		return misuse("--%s: %w", flag, err)
	}
	return misuse("--%s %q, need %s", flag, text, need)
}

// lengthFlags is the note on a verb that names its flags that are lengths.
const lengthFlags = "lengths"

// putLength puts a flag on a verb that is a length.
func putLength(cmd *cobra.Command, name, use string, n number) *number {
	f := put(cmd, name, use, inLength(n))
	areLengths(cmd, name)
	return f
}

// areLengths notes flags of a verb that are lengths.
func areLengths(cmd *cobra.Command, names ...string) {
	if cmd.Annotations == nil {
		cmd.Annotations = map[string]string{}
	}
	cmd.Annotations[lengthFlags] += " " + strings.Join(names, " ")
}

// length and reachFlag put a flag on a verb that takes a length: above 0, or any; signed is for any number.
func length(cmd *cobra.Command, name, use string) *number {
	return putLength(cmd, name, use, positive())
}

func reachFlag(cmd *cobra.Command, use string) *number {
	return putLength(cmd, "reach", use, anyNumber())
}

// limit puts on a verb the limit of a figure's error: 0 says that it is exact.
func limit(cmd *cobra.Command, name, use string) *number {
	return putLength(cmd, name, use, notNegative())
}

func signed(cmd *cobra.Command, name, use string) *number { return put(cmd, name, use, anyNumber()) }

// wholeNumber takes a whole number from least to most, a sign before it or none.
func wholeNumber(least, most uint64, need string) value[uint64] {
	return value[uint64]{kind: "N", read: func(s string) (uint64, error) {
		v, err := strconv.ParseUint(strings.TrimPrefix(s, "+"), 10, 64)
		if err != nil || v < least || v > most {
			return 0, fmt.Errorf("%q, need %s", s, need)
		}
		return v, nil
	}}
}

// eventNumber takes the number of a journal's event.
func eventNumber() value[uint64] {
	return wholeNumber(1, math.MaxInt, "the number of an event, from 1")
}

// either takes one of two words, each of which stands for a value.
func either[T any](words [2]string, values [2]T) value[T] {
	return value[T]{kind: strings.Join(words[:], "|"), read: func(s string) (v T, err error) {
		for i, w := range words {
			if s == w {
				return values[i], nil
			}
		}
		return v, fmt.Errorf("%q, need %s or %s", s, words[0], words[1])
	}}
}

// numbers takes a list of numbers above 0. It is split at semicolons or spaces, so that decimal commas can stand
// between them, or else at commas.
func numbers() value[[]float64] {
	return value[[]float64]{kind: "numbers", read: func(s string) (all []float64, err error) {
		split := strings.FieldsFunc(s, func(r rune) bool { return r == ';' || r == ' ' })
		if len(split) == 1 {
			split = strings.Split(s, ",")
		}
		for _, word := range split {
			one := positive()
			if err := one.Set(word); err != nil {
				return nil, err
			}
			all = append(all, one.v)
		}
		return all, nil
	}}
}

// unit takes a unit; where none is given, the files name it.
func unit() value[geom.Unit] { return value[geom.Unit]{kind: "mm|in", read: geom.ParseUnit} }

// addSteps puts the flag on a verb that says whether the order at the machine is asked for step by step; where nothing
// is said, it is on a screen and not in lines, which programs may drive.
func addSteps(cmd *cobra.Command, f *value[bool]) {
	*f = value[bool]{kind: "bool", read: strconv.ParseBool}
	cmd.Flags().Var(f, "steps", "ask for the order at the machine step by step, to the checked arc (on a screen unless --steps=false)")
	cmd.Flags().Lookup("steps").NoOptDefVal = "true"
}
