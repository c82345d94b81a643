//go:build !linux

package main

import "os/exec"

// endsWithUs can do nothing here: a program that sends notices by itself, as it writes, that nobody reads it any more.
func endsWithUs(*exec.Cmd) {}
