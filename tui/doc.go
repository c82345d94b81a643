// Package tui is the screen: one root model that turns keys into commands and states into
// panes. It decides nothing about the job; the session does.
//
// # Screens beside the session's
//
// The plan is a program of its own on the terminal ([Choose]), one after the other with the session's, so the
// session's root knows nothing of plans. There "problem" is an arc without a swing radius, or one that gouges an
// element it does not meet; corners that the cutter cannot reach are told below the list and do not bar the arc.
//
// Who looks on while another program writes sees the replay's root. What comes in makes a longer history and a
// longer line of time; the old ones stay as they are.
package tui
