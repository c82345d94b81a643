package main

import "os"

// stopping are the signals that ask a program to stop until it is brought back: there are none here.
var stopping []os.Signal

// attach leaves the console as it is: the terminal library reads its keys as events, not as bytes.
func (t *console) attach() {}
