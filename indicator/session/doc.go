// Package session is the whole job at the machine without a screen: what a person may say, what
// follows from it, and the state that both lead to. State is a fold over events; the live
// session, a resumed one and a replay are the same fold over the same journal.
//
// An entry is one file: its command, which a person gives, its event, which the journal keeps, and
// the row of each, which says all that there is to know of it. Values carry their row, so deciding and
// folding go through the value; the two lists of rows in entries.go are read where a word or a kind
// has to be found.
//
// # What is journalled
//
// Decisions are, results are not. That a sweep was closed, which wind was told, that a setting has settled is on
// record, so that a replay shows what was told even where a later program would tell something else; fits are
// computed again. A command causes exactly one event, and [Follow] is asked of each new state until nothing more is
// due. Every event is synced by itself: a power cut between two of them leaves a journal that simply goes on.
//
// Whatever the words of a session depend on is in its opening, or a replay would say other bytes: the figures that
// bearings are told by, the order in which the steps at the machine are asked for, what the machine and the checked
// arcs have taught so far. So a setting is complete in itself, and one that was written before such a field says
// nothing new when it is replayed. (The screen's key for the bearings is a matter of the eye and is not recorded.)
//
// A new field of a frequent kind works at once, by the slow reading; add it to the quick one for speed.
//
// Stations, finished trials and past events are lists that later states share, and nothing in them is changed in
// place. To change a station go through State.station, or after Sweep.own. A state kept for every event took 8 KB
// each.
//
// # What a person decides
//
// A reading that does not fit is asked for once more, with the cause that would explain it; which of the two stands
// the person says, and both are in the journal. A pair of opposite readings is an event, so that a replay asks for
// the same stations as the session did. The steps at the machine are entries like any other, so undo and replay know
// them; the setting counts as accepted while they go on, and the next one may begin without them. Their last wind
// goes by the collar: the indicator is out by then. A note is taken at any time, behind the end too, and about any
// event: nothing that was accepted changes by it.
//
// # What winds teach of a direction
//
// What is learnt of a direction has the ring's own zero error in it, and where the spindle truly stands beside the
// stated bearing of the indicator: both turn the stations, and it is the stations that the slides have to be right
// against. How square the two are to each other is free of that, and both are free of a slide's line that misses the
// axis: that turns the winds back, and leaves the stations at the ring's round figures. What is not known of a
// direction goes into the circle's doubt to the side of every wind.
//
// # Tilt
//
// It is known from the readings' scatter alone, for reach and reference cancel, and |tilt| + U stands for the stated
// limit in both budgets from then on. The centre is not shifted by it: one limit, never optimistic. The second sweep
// closes at its planned stations and is never judged.
//
// # What arcs teach
//
// Only arcs made by exactly the same [Means] teach: another reference of the same reach would need an unknown of its
// own. A bias that they teach brings its limit with it, √3·U/1.96, in the place of the stated ones of reach and
// reference. Without it a slide that is 0.018 out would be left alone under a reach that is stated to ±0.05. A bias
// of the person's own brings none, and is allowed on a side of the metal that the arcs say nothing of.
package session
