package session

import "slices"

// events are all kinds of event.
var events = []*EventRow{
	opened, loaded, reading, skipped, doubted, kept, contradicted, retouched, sized, closingAsked, drifted, evened, paired, held,
	released, biased, limitStated, stoodAt, collarRead, bezelSet,
	sensed, suspected, passedOver, restated, backed, differs,
	raised, tilted, undone, restarted, swept, told, wondered, reopened, wound, looked, reswept, settled, worked, accepted, parted, noted,
	ticked,
	bumped, reread, moved, stayed,
}

// kinds are the events by their names in journals.
var kinds = byKind(events)

func byKind(rows []*EventRow) map[string]*EventRow {
	out := make(map[string]*EventRow, len(rows))
	for _, r := range rows {
		out[r.Kind] = r
	}
	return out
}

// Events lists what is known of every kind of event.
func Events() []*EventRow { return events }

// commands are all that a person may say, in the order in which they are told.
var commands = slices.Concat([]*CommandRow{
	openSetting, take, touchPoint, confirm, off, undo, skip, keep, correct, retouch, nextStation, stopped, askClosing, even, hold,
	release, correction, bias, stateLimit, seeRing, at, readCollar, bezel, sense, restate, differ, raise,
}, gauges, []*CommandRow{restart, enough, note, tick, accept, nextPart, look})

// Commands lists what is known of all that a person may say.
func Commands() []*CommandRow { return commands }
