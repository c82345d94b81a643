package main

import (
	"fmt"
	"io"
	"os"
	"time"
)

// sends is the name of a program that stands in for one that reads an indicator.
const sends = "trammel-sends"

// send complains, and then writes what its arguments say, one after the other: a figure; with ~ before it over and over beside what
// follows; a file's bytes as they come, with @ before its name. Then it waits until it is ended, unless told to end.
func send() {
	fmt.Fprint(os.Stderr, "cable \x1b[31mworn\n")
	for _, arg := range os.Args[1:] {
		switch {
		case arg == "end":
			return
		case arg[0] == '@':
			f, err := os.Open(arg[1:])
			if err != nil {
				os.Exit(1)
			}
			_, _ = io.Copy(os.Stdout, f)
		case arg[0] == '~':
			go func() {
				for range time.Tick(2 * time.Millisecond) {
					fmt.Println(arg[1:])
				}
			}()
		default:
			fmt.Println(arg)
		}
	}
	select {}
}
