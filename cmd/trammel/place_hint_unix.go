//go:build unix

package main

// systemHints are for errors that the system has numbers of its own for: none here, all are the standard's.
var systemHints []kindHint
