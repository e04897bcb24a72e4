package table

import (
	"math"
	"strings"
	"sync"

	"strake/lang/quantity"
)

// Operation is how a protective device answers to a current.
type Operation struct {
	Opens   bool                          // it surely opens at all
	Seconds quantity.Opt[quantity.Second] // in at most this time, where a table says
	Energy  quantity.AmpereSquaredSecond  // with Seconds known: the most that it lets through
	Source  string
}

// Device is what a table needs to know of a protective device. Kind is a fuse's
// class, or curve-b, curve-c, curve-d of a breaker; of a device of which neither
// is known it is empty. Rating is in ampere.
type Device struct {
	Kind   string
	Rating quantity.Ampere
	Breaks quantity.Opt[quantity.Ampere] // chooses the row of a breaker's energy class
}

// timed is a row of opening times or of conventional fusing currents, let one of
// let-through.
type (
	timed struct {
		kind                  string
		to, multiple, seconds float64 // to: infinite where a row has no end
		source                string
	}
	let struct {
		class               string
		rating, breaks, a2s float64 // breaks: 0 where a row has none
		source              string
	}
)

var (
	times   = sync.OnceValue(func() []timed { return timedOf("opening") })
	fusings = sync.OnceValue(func() []timed { return timedOf("fusing") })
	lets    = sync.OnceValue(func() (list []let) {
		for _, r := range read("let_through") {
			breaks := 0.0
			if r["breaks_a"] != "" {
				breaks = r.number("breaks_a")
			}
			list = append(list, let{r["class"], r.number("ampere"), breaks, r.number("a2s"), r["source"]})
		}
		return list
	})
)

func timedOf(table string) (list []timed) {
	for _, r := range read(table) {
		to := math.Inf(1)
		if r["to_a"] != "" {
			to = r.number("to_a")
		}
		list = append(list, timed{r["kind"], to, r.number("multiple"), r.number("seconds"), r["source"]})
	}
	return list
}

// atOnce is the time in seconds within which a breaker opens by its coil.
const atOnce = 0.1

// unknownFusing is the multiple of its rating at which a device surely opens of
// whose construction nothing is known: a gG fuse of 4 A and less, the laziest.
const unknownFusing = 2.1

// gG tells a class of fuse that is of gG's construction: nh without more is.
func gG(class string) bool { return class == "gg" || class == "nh" }

// gate is a row of IEC 60269 for a rating of gG: the currents that surely open
// it within 5 s and 0.1 s, the least energy that melts it and the most that it
// lets through.
type gate struct {
	rating, five, tenth  float64
	prearcing, operating float64
	source               string
}

var gates = sync.OnceValue(func() []gate {
	var list []gate
	for _, r := range read("gates_gg") {
		list = append(list, gate{r.number("ampere"), r.number("five_s_a"), r.number("tenth_s_a"), r.number("prearcing_a2s"), r.number("operating_a2s"), r["source"]})
	}
	return list
})

// gateOf is the row of a rating, or of the next larger one.
func gateOf(rating quantity.Ampere) (gate, bool) {
	for _, g := range gates() {
		if g.rating >= float64(rating) {
			return g, true
		}
	}
	return gate{}, false
}

// Fusing is the multiple of its rating at which a device surely opens in its
// conventional time, and that time. Of blade and strip fuses and of breakers it
// is the first row of their times.
func Fusing(d Device) (multiple float64, within quantity.Opt[quantity.Second], source string) {
	for _, r := range times() {
		if r.kind == d.Kind {
			return r.multiple, quantity.Some(quantity.Second(r.seconds)), r.source
		}
	}
	kind := d.Kind
	if gG(kind) {
		kind = "gg"
	}
	for _, r := range fusings() {
		if r.kind == kind && float64(d.Rating) <= r.to {
			return r.multiple, quantity.Some(quantity.Second(r.seconds)), r.source
		}
	}
	return unknownFusing, quantity.Opt[quantity.Second]{}, "common practice"
}

// Opening is how a device answers to a current in ampere: whether it surely
// opens, in what time at most, and what it lets through at most. Where no table
// has its times only the first is known.
func Opening(d Device, current quantity.Ampere) Operation {
	if d.Rating <= 0 {
		return Operation{}
	}
	multiple := float64(current / d.Rating)
	fusing, within, source := Fusing(d)
	out := Operation{Opens: multiple >= fusing*(1-1e-9), Source: source}
	if !out.Opens {
		return out
	}
	at := func(t float64, energy float64, source string) Operation {
		return Operation{true, quantity.Some(quantity.Second(t)), quantity.AmpereSquaredSecond(energy), source}
	}
	// Class T is faster than gG, so gG's gates bound it from above (common practice).
	if g, ok := gateOf(d.Rating); ok && (gG(d.Kind) || d.Kind == "t") {
		// What melts a fuse falls as the current rises: each gate bounds what lies
		// above it.
		through, from := g.operating, g.source
		if own, ok := LetThrough(d); ok {
			through, from = float64(own.Value), own.Source
		}
		switch i := float64(current); {
		case i*i*0.01 >= through:
			return at(0.01, through, from)
		case i >= g.tenth:
			return at(0.1, max(through, g.tenth*g.tenth*0.1), g.source)
		case i >= g.five:
			return at(5, g.five*g.five*5, g.source)
		}
		return at(float64(within.Value), math.Inf(1), source)
	}
	found := false
	for _, r := range times() {
		if r.kind != d.Kind || float64(d.Rating) > r.to || r.multiple > multiple*(1+1e-9) {
			continue
		}
		seconds := r.seconds
		if strings.HasPrefix(d.Kind, "curve-") && multiple > r.multiple && seconds > atOnce {
			// A strip that bends when it is warm needs no more energy of a larger
			// current, as it loses less of it on the way: t falls with the square.
			seconds = max(atOnce, float64(seconds*r.multiple*r.multiple)/multiple/multiple)
		}
		if !found || seconds < float64(out.Seconds.Value) {
			out, found = at(seconds, float64(current)*float64(current)*seconds, r.source), true
		}
	}
	if let, ok := LetThrough(d); ok && found && out.Seconds.Value <= 0.1 && let.Value < out.Energy {
		return at(float64(out.Seconds.Value), float64(let.Value), let.Source)
	}
	return out
}

// LetThrough is the most energy in A²s that a device lets through where it opens
// at once: class T by UL 248-15, an AC breaker by its energy class, gG by IEC
// 60269. Not known for others.
func LetThrough(d Device) (Cited[quantity.AmpereSquaredSecond], bool) {
	for _, r := range lets() {
		if r.class != d.Kind || r.rating < float64(d.Rating) || r.breaks > 0 && (!d.Breaks.Known || r.breaks < float64(d.Breaks.Value)) {
			continue
		}
		return Cited[quantity.AmpereSquaredSecond]{quantity.AmpereSquaredSecond(r.a2s), r.source}, true
	}
	if g, ok := gateOf(d.Rating); ok && gG(d.Kind) {
		return Cited[quantity.AmpereSquaredSecond]{quantity.AmpereSquaredSecond(g.operating), g.source}, true
	}
	return Cited[quantity.AmpereSquaredSecond]{}, false
}

// Melts is the least energy in A²s that melts a gG fuse: what stands before it
// and lets through less leaves it whole.
func Melts(d Device) (Cited[quantity.AmpereSquaredSecond], bool) {
	g, ok := gateOf(d.Rating)
	if !ok || g.rating != float64(d.Rating) || !gG(d.Kind) {
		return Cited[quantity.AmpereSquaredSecond]{}, false
	}
	return Cited[quantity.AmpereSquaredSecond]{quantity.AmpereSquaredSecond(g.prearcing), g.source}, true
}

// Instant is the multiples of its rating between which a breaker of a curve
// begins to open at once: below the least it does not, above the most it surely
// does (IEC 60898-1). Curves: b, c, d.
func Instant(curve string) (least, most float64, ok bool) {
	for _, r := range read("instant") {
		if r["curve"] == curve {
			return r.number("least"), r.number("most"), true
		}
	}
	return 0, 0, false
}

// LoopLimit is the largest loop impedance in ohm with which a fault to earth
// opens a breaker at once: 0.95·U/(most·In), U the voltage to earth (IEC
// 60364-4-41 411.4.4 with the factor of BS 7671, from memory).
func LoopLimit(curve string, rating quantity.Ampere, toEarth quantity.Volt) (quantity.Ohm, bool) {
	_, most, ok := Instant(curve)
	if !ok || rating <= 0 {
		return 0, false
	}
	return quantity.Ohm(0.95 * float64(toEarth) / (most * float64(rating))), true
}
