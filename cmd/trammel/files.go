package main

import (
	"os"

	"example.org/trammel/indicator/job"
)

// readJob reads a job file, whose target may still be chosen, and returns its text too, for the digest.
func readJob(path string) (*job.Draft, []byte, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, err
	}
	draft, err := job.ReadJob(path, text)
	return draft, text, err
}

// readMachine reads a machine file, and returns its text too.
func readMachine(path string) (m job.Machine, text []byte, err error) {
	if text, err = os.ReadFile(path); err != nil {
		return m, nil, err
	}
	m, err = job.ParseMachine(path, text)
	return m, text, err
}
