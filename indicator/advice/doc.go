// Package advice holds the decisions of a setting that need no state: when a sweep is enough and where its next station
// helps most, which slide goes by how much and under which needle, how sure one may be of where a wind has ended, and which
// statement would explain winds that went astray. It is given plain values and gives plain values back; lengths are
// millimetres, angles radians. It knows no set-up: what carries what, and what can be reached, it is told.
package advice
