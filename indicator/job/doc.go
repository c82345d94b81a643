// Package job reads the two files a session starts from: the job (what to set, with which
// indicator, over which reference) and the machine (its slides and rings). Bytes in, values
// out: it opens no file itself.
//
// Whoever has no editor is asked for them ([MachineQuestions], [JobQuestions]): the questions are rows, one engine carries them, and
// what it ends in is the text of such a file, which the same parser reads. A new question is a row in ask_machine.go or ask_job.go.
//
// A job file is read once ([ReadJob]) and may be asked for several arcs ([Draft.For]). An arc's figures go through
// the file's own checks, so that a reach that would put the needle off the dial is refused with file, line and hint.
// They are put in again afterwards in millimetres, for into inches and back would cost a bit.
//
// What the machine file says of angles is bearings, or the table's own angle, and never what a ring shows, unless it
// is the ring itself that is described. So "reached" is the table's angle too: it takes parking places away from a
// wind under the needle, while a load, or a wind by the collar, is told at the middle of the range, at a mark of 15°
// where there is room.
package job
