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
// # When a sweep closes
//
// From the fewest readings on it closes when all is inside, or when something is outside and every wind is known to
// half of half its tolerance. With the planned stations in, it closes when something is outside or all is inside;
// while that is undecided, further stations are asked for where they help most, up to twice the plan. Where not even
// that many could decide, and a wind is worth making, the wind comes first: to wind 18 µm home is quicker than to
// measure whether 20 is exceeded.
//
// Each look at the sweep takes its share of the risk, for to stop as soon as it looks right is to test several
// times. "Outside" is guarded like "inside": left alone it stopped just those sweeps that had strayed, and their
// intervals held 88 to 95 % at the limit.
//
// # What is wound
//
// Winds under the needle are planned from what is known now, not from the sweep alone. After every wind the circle
// is moved, and the reading behind it is one more observation (a linear Gaussian update). So a slide that stopped
// beside its goal moves the goals of those behind it; one that a long wind of the others has carried along, across a
// direction that is set by eye, is brought in once more; and the next sweep has a band to judge its first readings
// by. That sweep is fitted alone: what confirms must not lean on what it is to confirm.
//
// # Cross slides
//
// They are solved as a pair, for nobody squares them to the head's ring. A direction that nothing turns is exactly
// (1, 0) or (0, 1), so that the arithmetic, and with it every journal written before directions were learnt, comes
// out bit for bit as it did. A journal holds how far a slide is askew of its name: one without the field means what
// it always meant.
//
// What is learnt of a direction has the ring's own zero error in it, and where the spindle truly stands beside the
// stated bearing of the indicator: both turn the stations, and it is the stations that the slides have to be right
// against. How square the two are to each other is free of that, and both are free of a slide's line that misses the
// axis: that turns the winds back, and leaves the stations at the ring's round figures. What is not known of a
// direction goes into the circle's doubt to the side of every wind. An angle far beyond its doubt is told as odd,
// and not taken in.
//
// # A table that is turned
//
// It is fitted in its own frame. There the reference stands still and the indicator goes round it, so the fit, the
// obstacles, further stations and parked readings are those of a carried sweep. The table's angle appears at the
// edges only, in what is asked and in the lines made of it: where to park is recorded as the bearing of the plate,
// and table and ring follow from the opening. A table's angle of its own is recorded only where a handwheel can be
// reached from nowhere else.
//
// # Points
//
// They are a sweep seen from the circle's own centre ([indicator.Setup.Locate]), so looks, further stations, ellipse
// and alarms serve as they are. The sweep's verdict is whether the centre is known well enough; the setting's is of
// the same circle seen from where the spindle stands. Nothing is swept behind the winds, so that verdict has the
// points' doubt and that of where the readout says the slide was stopped. By a collar without a readout, 2 % of 30
// mm leaves it undecided until the coordinates are told. Which point is wrong is asked of the circles that leave out
// one: a sign turned moves a point by tens of millimetres, and bends the linear test.
//
// # Taps
//
// A tap is told and answered as a wind is, so undo, the doubt of what is read behind it, and history are those of
// winds. A line is left within a quarter of its tolerance. What went aside no needle has shown, so the next sweep
// finds it: hence 2.5 trials in the mean.
//
// # A spindle set off a table's axis
//
// The sweep shows the centre only, and the way off is told as a wind that belongs to no trial: belief and learning know
// nothing of it. A new sweep begins with the way back.
//
// # Tilt
//
// It is known from the readings' scatter alone, for reach and reference cancel, and |tilt| + U stands for the stated
// limit in both budgets from then on. The centre is not shifted by it: one limit, never optimistic. The second sweep
// closes at its planned stations and is never judged.
//
// # What is stated wrong
//
// Where the signs are checked, the fault is the one statement that explains all checks that disagree, and the newest
// check of a slide counts. Where they are not, the next sweep shows it: it is computed from the state, as the doubt
// of the reach is, and no event. Several statements may be named, for a ring that is read the other way round and a
// slide with a left-hand screw can look the same. What goes astray by less than 0.06 mm shows in nothing yet, and
// does no harm yet.
//
// # What arcs teach
//
// Only arcs made by exactly the same [Means] teach: another reference of the same reach would need an unknown of its
// own. A bias that they teach brings its limit with it, √3·U/1.96, in the place of the stated ones of reach and
// reference. Without it a slide that is 0.018 out would be left alone under a reach that is stated to ±0.05. A bias
// of the person's own brings none, and is allowed on a side of the metal that the arcs say nothing of.
package session
