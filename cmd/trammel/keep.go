package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
)

// keeper keeps what is answered, so that who is killed, or called away, among the questions goes on with it. That nothing can be
// kept is told once, and stands in nobody's way.
type keeper struct {
	file string // empty where nothing can be kept
}

// begin is a set of questions as it was left: where some of it was answered before and never finished, whether that stands is
// asked first. which names the set, among all that are asked.
func begin(w world, which string, q job.Asking) (job.Asking, *keeper) {
	folder, err := askedFolder(w)
	if err != nil {
		tellUnkept(w, err)
		return q, &keeper{}
	}
	file := filepath.Join(folder, which+".json")
	text, err := readOwn(file)
	if errors.Is(err, fs.ErrNotExist) {
		return q, &keeper{file}
	}
	if err == nil {
		var now job.Asking
		if now, err = q.Offer(text); err == nil {
			return now, &keeper{file}
		}
	}
	aside, moved := setAside(file)
	if moved != nil {
		tellUnkept(w, errors.Join(fmt.Errorf("%s: %w", file, err), moved))
		return q, &keeper{}
	}
	fmt.Fprintf(w.err, "trammel: %s: %s; it is set aside as %s, and the questions begin anew\n", printable(file), printable(err.Error()),
		printable(aside))
	return q, &keeper{file}
}

// askedFolder is where answers are kept until all are given. What a kill left of a file that was being written goes.
func askedFolder(w world) (string, error) {
	folder, err := userFolder(w, "XDG_DATA_HOME", "LOCALAPPDATA", filepath.Join(".local", "share"))
	if err != nil {
		return "", err
	}
	folder = filepath.Join(folder, "asked")
	half, _ := filepath.Glob(filepath.Join(folder, halfWritten))
	for _, f := range half {
		if info, err := os.Lstat(f); err == nil && w.now().Sub(info.ModTime()) > time.Minute { // else another program may be at it
			os.Remove(f)
		}
	}
	return folder, nil
}

// mostAside bounds how many files of one name are set aside.
const mostAside = 100

// setAside gives a file another name, which is returned: nothing that a person wrote, or may want to look at, is thrown away.
func setAside(path string) (aside string, err error) {
	if aside, err = freeAside(path); err != nil {
		return "", err
	}
	return aside, os.Rename(path, aside)
}

// freeAside is a name that a file can be set aside under.
func freeAside(path string) (aside string, err error) {
	for i := 1; i <= mostAside; i++ {
		aside = path + ".broken"
		if i > 1 {
			aside = fmt.Sprintf("%s.broken-%d", path, i)
		}
		if _, err := os.Lstat(aside); errors.Is(err, fs.ErrNotExist) {
			return aside, nil
		}
	}
	return "", withHint(fmt.Errorf("%s: %d files are set aside already", path, mostAside), "move them away")
}

// tellUnkept says that what is answered is not kept.
func tellUnkept(w world, err error) {
	fmt.Fprintf(w.err, "trammel: what is answered is not kept against a cut: %s\n", printable(err.Error()))
}

// keep puts down what is answered so far. The error comes once: nothing is kept from then on.
func (k *keeper) keep(q job.Asking) error {
	if k.file == "" {
		return nil
	}
	var err error
	if text := q.Keep(); text != nil {
		err = replaceFile(k.file, text)
	} else if err = os.Remove(k.file); errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	if err != nil {
		k.file = ""
	}
	return err
}

// keepers keep the answers of one setting.
type keepers []*keeper

func (all keepers) done() {
	for _, k := range all {
		k.done()
	}
}

// done forgets what was answered: all of it is kept elsewhere.
func (k *keeper) done() {
	if k.file != "" {
		os.Remove(k.file) // else it is offered once more, which does no harm
	}
}

// left says how it stands where the questions are left before the last answer.
func (k *keeper) left(w world, q job.Asking) {
	what := "and nothing is written"
	if q.Keep() != nil && k.file != "" {
		what = "and nothing is written; what was answered is kept, and offered when they begin again"
	}
	fmt.Fprintf(w.err, "trammel: the questions are left, %s\n", what)
}

// foundOf are the figures of the job that were found among the questions, the newest of each: one that was answered otherwise since,
// for another arc, is none of this job's.
func (f *askedJob) foundOf(j *setup.Job) (out []setup.Found) {
	const same = 1e-9
	for key, v := range map[string]float64{setup.FoundReach: j.Setup.Reach, setup.FoundRepeatability: j.Dial.Repeatability} {
		for i := len(f.found) - 1; i >= 0; i-- {
			if f.found[i].Key == key && math.Abs(f.found[i].Value-v) < same {
				out = append(out, f.found[i])
				break
			}
		}
	}
	slices.SortFunc(out, func(a, b setup.Found) int { return strings.Compare(a.Key, b.Key) })
	return out
}

// ofMachineFile names the questions after a job by the machine's file that it is for, in letters that any file system takes.
func ofMachineFile(path string) string { return ofFiles(path) }

// ofFiles does the same for a job that is begun from a file, or is for the arcs of a drawing.
func ofFiles(paths ...string) string {
	for i, path := range paths {
		if whole, err := filepath.Abs(path); err == nil {
			paths[i] = whole
		}
	}
	sum := sha256.Sum256([]byte(strings.Join(paths, "\x00")))
	return "job-" + hex.EncodeToString(sum[:6])
}
