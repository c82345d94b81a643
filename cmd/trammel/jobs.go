package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/record"
)

// knownJobs are the names of the jobs that are kept, in their order, and the folder that they are in, which need not be there.
func knownJobs(w world) (folder string, names []string, err error) { return namesIn(w, "jobs") }

// jobFile is the file that --job means.
func jobFile(w world, arg string) (string, error) {
	file, found, names, err := fileOf(w, arg, knownJobs)
	switch {
	case err != nil || found:
		return file, err
	case len(names) == 0:
		return "", withHint(fmt.Errorf("%s: neither a file nor a job's name, and no job is kept yet", arg),
			"without --job the job is asked for, and can be kept under a name")
	}
	return "", withHint(fmt.Errorf("%s: neither a file nor a job's name, need one of %s", arg, strings.Join(names, ", ")),
		"without --job the job is asked for, and can be kept under a name")
}

// keepable adds to the facts whether answers can be kept under a name, and which names are taken.
func keepable(w world, f *job.Facts) {
	folder, names, err := knownJobs(w)
	if err == nil {
		err = canHold(folder)
	}
	if err != nil {
		fmt.Fprintf(w.err, "trammel: the answers cannot be kept under a name: %s\n", printable(err.Error()))
		return
	}
	f.Keep, f.Taken = true, names
}

// isKept reports whether a file is a job that is kept under a name.
func isKept(w world, file string) bool {
	folder, _, err := knownJobs(w)
	return err == nil && file != "" && sameFile(filepath.Dir(file), folder)
}

// keepJob keeps the answers under the name that was given to them, where one was. That they cannot be does the session no harm.
func keepJob(w world, c *common, q job.Asking) error {
	name := q.KeepAs()
	if name == "" {
		return nil
	}
	folder, _, err := knownJobs(w)
	file := filepath.Join(folder, name+ofMachine)
	if err == nil {
		err = writeNew(file, q.ToKeep())
	}
	if err != nil {
		fmt.Fprintf(w.err, "trammel: the answers are not kept as %s: %s\n", printable(name), printable(err.Error()))
		return nil
	}
	return say(w, c, record.WrittenJob(file, name))
}
