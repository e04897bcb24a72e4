package size

import (
	"math"
	"slices"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/lang/solve"
)

// Loaded is what a bar or a way carries in a condition, and what it has left.
type Loaded struct {
	Of      circuit.Terminal            // a bar, or the outgoing side of a way
	At      circuit.Terminal            // where more would be taken: the bar itself, or the far end of the way's cable; none when that is capped
	Far     quantity.Opt[quantity.Volt] // the voltage there
	Voltage quantity.Opt[quantity.Volt]
	Current quantity.Opt[quantity.Ampere] // what passes the bar, or goes out by the way
	Power   quantity.Opt[quantity.Watt]
	Left    Headroom
}

// Headroom is the constant current that can be taken at a node besides what is
// on, until the first thing on its way is at its limit.
type Headroom struct {
	Left    quantity.Opt[quantity.Ampere] // below 0: what is on is over the limit already, by so much
	Binds   *Element                      // what is then at its limit; nil: the network delivers no more
	Without []string                      // limits that are not stated, and so not counted
}

// Support is what converters and chargers give to loads that stand on a battery
// besides: what they do not give the battery does, for as long as it lasts.
type Support struct {
	Givers, Stores []*circuit.Item
	Gives          quantity.Ampere // all of them at their limit
	Takes          quantity.Ampere // the loads, without what charges the battery
}

// Left is what the givers could give besides; below 0 the battery is drawn upon.
func (s Support) Left() quantity.Ampere { return s.Gives - s.Takes }

// supports finds them, a network each.
func (b *builder) supports(r *solve.Result) []Support {
	var list []Support
	at := map[int]int{}
	for k, p := range b.pairs {
		n := b.wiring.node[p[0]]
		if g := b.group[n]; b.known(r, n) && p[1].Item != nil && b.network.Converters[k].Limit > 0 && b.stored(n) {
			if _, ok := at[g]; !ok {
				at[g] = len(list)
				list = append(list, Support{})
			}
			s := &list[at[g]]
			s.Givers = append(s.Givers, p[0].Item)
			s.Gives += quantity.Ampere(b.network.Converters[k].Limit)
			s.Takes += quantity.Ampere(r.Converters[k])
		}
	}
	for k, p := range b.poles {
		if i, ok := at[b.group[b.wiring.node[p[0]]]]; ok && storage(p[0]) {
			list[i].Stores = append(list[i].Stores, p[0].Item)
			list[i].Takes += quantity.Ampere(r.Sources[k])
		}
	}
	return list
}

// tolerance is how near to its limit what binds is brought, relatively.
const tolerance = 1e-6

// sharing is the least part of a current that still counts as being on its way,
// for what is over its limit before anything more is taken.
const sharing = 0.05

// mostTrials bounds the approach to it.
const mostTrials = 30

// load works out what the elements carry and what every bar and way has left.
func (b *builder) load(out *Solved, r *solve.Result) {
	if r == nil || out.Refused != "" {
		return
	}
	j := b.join()
	meters := b.meters(j)
	now := b.flows(j, r, circuit.Terminal{}, 0)
	for i := range meters {
		m := &meters[i]
		if b.known(r, m.node) {
			m.Current = quantity.Some(quantity.Ampere(m.read(now)))
		}
		out.Elements = append(out.Elements, m.Element)
	}
	out.Supports = b.supports(r)
	for i, t := range j.order {
		switch {
		case t.Item.Nature().Conductive:
			out.Loads = append(out.Loads, b.loaded(t, t, b.wiring.node[t], now.bars[i], j, meters, now))
		case t.Item.Way != nil && t.Item.Way.Device == t.Item && t.Port == "out" && t.Item.Way.Cable != nil:
			for k, c := range b.wiring.cable {
				if b.cables[c].Of == t.Item.Way.Cable { // a way's cable may come from nowhere else: its near end is the device
					far, _ := b.cables[c].Of.To.Terminal()
					out.Loads = append(out.Loads, b.loaded(t, far, b.wiring.branches[k].To, now.Branches[k], j, meters, now))
				}
			}
		}
	}
}

// known tells whether a node's voltage and currents are known.
func (b *builder) known(r *solve.Result, n int) bool {
	return r != nil && r.Live[n+1] && !b.unknown[b.group[n]]
}

func (b *builder) loaded(of, at circuit.Terminal, node int, amps float64, j *jointed, meters []meter, now *flowing) Loaded {
	l := Loaded{Of: of, At: at}
	if b.known(now.Result, b.wiring.node[of]) {
		volt := now.Volts[b.wiring.node[of]+1]
		l.Voltage, l.Current = quantity.Some(quantity.Volt(volt)), quantity.Some(quantity.Ampere(amps))
		l.Power = quantity.Some(quantity.Watt(volt * amps * b.power(of)))
	}
	if b.known(now.Result, node) {
		l.Far = quantity.Some(quantity.Volt(now.Volts[node+1]))
		l.Left = b.headroom(at, node, j, meters, now)
	}
	return l
}

// headroom is found by taking more at the node and solving again, until what
// binds is at its limit: converters, parallel packs and constant powers are so
// met as they are, and conductors warm up from one trial to the next.
func (b *builder) headroom(at circuit.Terminal, node int, j *jointed, meters []meter, now *flowing) Headroom {
	n := b.network
	n.Loads = append(slices.Clone(n.Loads), solve.Load{Plus: node + 1})
	n.Converters = b.eased()
	n.Branches = slices.Clone(n.Branches)
	warmed, last := 0.0, now.Result
	with := func(amps float64) *flowing {
		n.Loads[len(n.Loads)-1].Amps = amps
		r, err := n.SolveFrom(last)
		if err != nil || !r.Live[node+1] {
			return nil
		}
		if over, _ := b.overloaded(r); over != nil {
			return nil
		}
		warmed, last = b.warm(n.Branches, r), r
		return b.flows(j, r, at, amps)
	}
	before := make([]float64, len(meters))
	for i, m := range meters {
		before[i] = m.read(now)
	}
	amps, good, most := 1.0, 0.0, math.Inf(1) // most: from where on the network delivers no more
	best := Headroom{}
	for range mostTrials {
		after := with(amps)
		if after == nil {
			if most = amps; most < 1e-3 {
				return Headroom{Left: quantity.Some(quantity.Ampere(0))}
			}
			amps = good + (most-good)/2
			continue
		}
		good = amps
		next, binds, without := nearest(meters, before, after, amps, func(m meter) bool { return b.unknown[b.group[m.node]] })
		best.Without = without
		switch {
		case binds < 0 && math.IsInf(most, 1):
			return best // nothing that has a limit carries it
		case binds < 0 || next >= most:
			best.Binds, next = nil, amps+(most-amps)/2
		default:
			e := meters[binds].Element
			best.Binds = &e
		}
		best.Left = quantity.Some(quantity.Ampere(next))
		if still := math.Abs(next-amps) <= tolerance*math.Max(1, math.Abs(next)) && warmed < tolerance; still || next < 1e-9 {
			break
		}
		amps = next
	}
	return best
}

// eased is the converters, with those that alone feed what is behind them allowed
// a little more than their limit: a trial at the limit then has a solution.
func (b *builder) eased() []solve.Converter {
	list := slices.Clone(b.network.Converters)
	beside := map[int]int{}
	for _, p := range b.pairs {
		beside[b.group[b.wiring.node[p[0]]]]++
	}
	for _, p := range b.poles {
		beside[b.group[b.wiring.node[p[0]]]]++
	}
	for _, t := range b.held {
		beside[b.group[b.wiring.node[t]]]++
	}
	for i, p := range b.pairs {
		if beside[b.group[b.wiring.node[p[0]]]] == 1 {
			list[i].Limit *= 1.1
		}
	}
	return list
}

// nearest is the current at which the first element would be at its limit, were
// the rest as between none and this one.
func nearest(meters []meter, before []float64, after *flowing, amps float64, unknown func(meter) bool) (next float64, binds int, without []string) {
	next, binds = math.Inf(1), -1
	for i, m := range meters {
		gain := (m.read(after) - before[i]) / amps
		if math.Abs(gain) < 1e-6 || unknown(m) {
			continue
		}
		limit, sign := m.Limit, 1.0
		if gain < 0 {
			limit, sign = m.Back, -1
		}
		room := float64(limit.Value) - float64(sign*before[i]) // of the element itself
		left := room / math.Abs(gain)
		if room < 0 {
			if math.Abs(gain) < sharing {
				continue // over its limit by itself: not for what is taken here
			}
			left = room
		}
		switch {
		case limit.Known && left < next-tolerance*math.Max(1, math.Abs(left)): // of equal ones the first
			next, binds = left, i
		case !limit.Known && (gain > 0 || m.Back.Known || m.Limit.Known) && !slices.Contains(without, m.Name):
			without = append(without, m.Name)
		}
	}
	return next, binds, without
}
