package solve

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Network is a network for direct current: two-pole parts between nodes that are
// numbered from 0. Every island of it needs a node that is held. Volt, ampere,
// ohm, watt, siemens.
type Network struct {
	Nodes      int
	Branches   []Branch
	Sources    []Source
	Held       []Hold
	Loads      []Load
	Converters []Converter
}

// Source is a voltage behind a resistance above 0: a battery.
type Source struct {
	Plus, Minus int
	Volt, Ohm   float64
}

// Hold holds a node at a voltage: the reference at 0, an ideal source at its own.
type Hold struct {
	Node int
	Volt float64
}

// Load takes a constant current, a constant power and what a conductance takes,
// together. A negative power is given back.
type Load struct {
	Plus, Minus          int
	Amps, Watts, Siemens float64
}

// Converter holds its output at a voltage while its current lies between 0 and
// its limit; beyond that it gives the limit, and below 0 nothing. Its input
// takes the output's power over the efficiency, and what it takes idle. One whose
// input poles are one node is driven from outside: an alternator, shore power.
type Converter struct {
	InPlus, InMinus   int
	OutPlus, OutMinus int
	Volt, Limit       float64 // Limit 0: none
	Efficiency        float64
	Idle              float64 // watt
}

// Result is the solution: the voltage of every node; the current of every
// branch from its first node to its second, of every source and converter out
// of its positive pole, of every load into it.
type Result struct {
	Volts      []float64
	Live       []bool // nodes with a way to a held one; the others have no voltage, and what stands at them takes nothing
	Branches   []float64
	Sources    []float64
	Held       []float64 // current out of each held node into the network
	Loads      []float64
	Converters []float64 // at the output
	Inputs     []float64 // of the converters
	Limited    []bool    // converters that give their limit
	Residual   float64   // largest current that does not add up at a node, ampere
}

// ErrNoSolution is given when no voltage satisfies the network: a constant power
// beyond what its way can carry.
var ErrNoSolution = errors.New("no solution: a load asks for more power than its way can deliver")

// ErrUnsettled is given when converters that feed one another find no rest.
var ErrUnsettled = errors.New("no solution: converters feed one another without coming to rest")

const (
	mostSteps    = 60   // of Newton's method
	mostRounds   = 200  // of converters against one another
	closeEnough  = 1e-9 // ampere
	settledWatts = 1e-9 // relative change of a converter's input
)

// Check tells what is wrong with a network as such.
func (n Network) Check() error {
	node := func(i int) bool { return i >= 0 && i < n.Nodes }
	for i, b := range n.Branches {
		if !node(b.From) || !node(b.To) || !(b.Ohm > 0) {
			return fmt.Errorf("branch %d: nodes %d and %d of %d, %g ohm", i, b.From, b.To, n.Nodes, b.Ohm)
		}
	}
	for i, s := range n.Sources {
		if !node(s.Plus) || !node(s.Minus) || !(s.Ohm > 0) {
			return fmt.Errorf("source %d: nodes %d and %d of %d, %g ohm", i, s.Plus, s.Minus, n.Nodes, s.Ohm)
		}
	}
	for i, l := range n.Loads {
		if !node(l.Plus) || !node(l.Minus) {
			return fmt.Errorf("load %d: nodes %d and %d of %d", i, l.Plus, l.Minus, n.Nodes)
		}
	}
	for i, h := range n.Held {
		if !node(h.Node) {
			return fmt.Errorf("held node %d: %d of %d", i, h.Node, n.Nodes)
		}
	}
	for i, c := range n.Converters {
		if !node(c.InPlus) || !node(c.InMinus) || !node(c.OutPlus) || !node(c.OutMinus) || !(c.Efficiency > 0) {
			return fmt.Errorf("converter %d: efficiency %g", i, c.Efficiency)
		}
	}
	return nil
}

// Solve finds the voltages: of two that satisfy a constant power, the higher. An
// error is ErrNoSolution, ErrUnsettled, or a fault of the network as such.
func (n Network) Solve() (*Result, error) { return n.SolveFrom(nil) }

// SolveFrom begins with the converters as they were in the solution of a network
// that differs little, so that they are sooner at rest.
func (n Network) SolveFrom(near *Result) (*Result, error) {
	if err := n.Check(); err != nil {
		return nil, err
	}
	state := make([]mode, len(n.Converters))
	outlets := n.outlets()
	input := make([]float64, len(n.Converters)) // watt at the input
	output := make([]float64, len(n.Converters))
	if near != nil && len(near.Converters) == len(n.Converters) && len(near.Volts) == n.Nodes {
		for i, c := range n.Converters {
			input[i] = near.Inputs[i] * (near.Volts[c.InPlus] - near.Volts[c.InMinus])
			switch {
			case near.Limited[i]:
				state[i] = giving
			case near.Converters[i] == 0 && near.Volts[c.OutPlus]-near.Volts[c.OutMinus] > c.Volt+1e-9:
				state[i] = idle
			}
		}
	}
	for range mostRounds {
		alone := n.alone(state)
		volts, err := n.newton(state, alone, input)
		if err != nil {
			return nil, err
		}
		settled := true
		for i, c := range n.Converters {
			switch {
			case state[i] == giving:
				output[i] = c.Limit
			case state[i] == idle:
				output[i] = 0
			case alone[i]:
				output[i] = n.drawn(state, input, volts, c.OutPlus, outlets[c.OutPlus])
			default:
				output[i] = (c.Volt - volts[c.OutPlus] + volts[c.OutMinus]) / stiff
			}
			if next := c.next(state[i], output[i], volts); next != state[i] {
				state[i] = next
				settled = false
				break // one at a time: the others may fall into place
			}
			want := math.Max(0, output[i]*(volts[c.OutPlus]-volts[c.OutMinus]))/c.Efficiency + c.Idle
			if math.Abs(want-input[i]) > settledWatts*math.Max(1, math.Abs(want)) {
				settled = false
			}
			input[i] = want
		}
		if settled {
			return n.result(state, n.live(state, alone), input, output, volts), nil
		}
	}
	return nil, ErrUnsettled
}

// mode is what a converter does.
type mode int

const (
	holding mode = iota // it holds its voltage
	giving              // it gives its limit
	idle                // it gives nothing
)

// stiff is the resistance behind which a converter holds its voltage where it
// cannot hold the node itself: several on one node, or none of its poles held.
const stiff = 1e-5

// alone tells the converters that hold their node by themselves, without resistance.
func (n Network) alone(state []mode) []bool {
	held := make([]bool, n.Nodes)
	for _, h := range n.Held {
		held[h.Node] = true
	}
	outs, holds := make([]int, n.Nodes), make([]int, n.Nodes) // converters whose output is there, and those that hold it
	for i, c := range n.Converters {
		outs[c.OutPlus]++
		if state[i] == holding {
			holds[c.OutPlus]++
		}
	}
	list := make([]bool, len(n.Converters))
	for i, c := range n.Converters {
		others := outs[c.OutMinus]
		if c.OutMinus == c.OutPlus {
			others--
		}
		list[i] = state[i] == holding && held[c.OutMinus] && others == 0 && !held[c.OutPlus] && holds[c.OutPlus] == 1
	}
	return list
}

// next is what a converter does after a solution.
func (c Converter) next(m mode, amps float64, volts []float64) mode {
	v := volts[c.OutPlus] - volts[c.OutMinus]
	switch {
	case m == holding && c.Limit > 0 && amps > c.Limit*(1+1e-9):
		return giving
	case m == holding && amps < -1e-6:
		return idle
	case m == giving && v > c.Volt+1e-9, m == idle && v < c.Volt-1e-9:
		return holding
	}
	return m
}

// parts is what stands at a node, by number.
type parts struct{ branches, sources, loads, converters []int }

// outlets is what stands at the outputs of converters.
func (n Network) outlets() map[int]*parts {
	if len(n.Converters) == 0 {
		return nil
	}
	at := make(map[int]*parts, len(n.Converters))
	for _, c := range n.Converters {
		at[c.OutPlus] = &parts{}
	}
	put := func(list func(*parts) *[]int, k int, nodes ...int) {
		for i, node := range nodes {
			if p := at[node]; p != nil && !slices.Contains(nodes[:i], node) {
				*list(p) = append(*list(p), k)
			}
		}
	}
	for k, b := range n.Branches {
		put(func(p *parts) *[]int { return &p.branches }, k, b.From, b.To)
	}
	for k, s := range n.Sources {
		put(func(p *parts) *[]int { return &p.sources }, k, s.Plus, s.Minus)
	}
	for k, l := range n.Loads {
		put(func(p *parts) *[]int { return &p.loads }, k, l.Plus, l.Minus)
	}
	for k, c := range n.Converters {
		put(func(p *parts) *[]int { return &p.converters }, k, c.InPlus, c.InMinus, c.OutPlus, c.OutMinus)
	}
	return at
}

// drawn is the current that all parts but the converter that holds it take from a node.
func (n Network) drawn(state []mode, input, volts []float64, node int, at *parts) float64 {
	sum := 0.0
	part := func(plus, minus int, amps float64) {
		if plus == node {
			sum += amps
		}
		if minus == node {
			sum -= amps
		}
	}
	for _, k := range at.branches {
		b := n.Branches[k]
		part(b.From, b.To, (volts[b.From]-volts[b.To])/b.Ohm)
	}
	for _, k := range at.sources {
		s := n.Sources[k]
		part(s.Plus, s.Minus, (volts[s.Plus]-volts[s.Minus]-s.Volt)/s.Ohm)
	}
	for _, k := range at.loads {
		l := n.Loads[k]
		amps, _ := l.at(volts[l.Plus] - volts[l.Minus])
		part(l.Plus, l.Minus, amps)
	}
	for _, k := range at.converters {
		c := n.Converters[k]
		if v := volts[c.InPlus] - volts[c.InMinus]; v > 0 {
			part(c.InPlus, c.InMinus, input[k]/v)
		}
		if state[k] == giving {
			part(c.OutPlus, c.OutMinus, -c.Limit)
		}
	}
	return sum
}

func (n Network) result(state []mode, live []bool, input, output, volts []float64) *Result {
	r := &Result{Volts: volts, Converters: output, Live: live}
	balance, size := make([]float64, n.Nodes), make([]float64, n.Nodes)
	flow := func(from, to int, amps float64) {
		balance[from] -= amps
		balance[to] += amps
		size[from] += math.Abs(amps)
		size[to] += math.Abs(amps)
	}
	for _, b := range n.Branches {
		i := (volts[b.From] - volts[b.To]) / b.Ohm
		r.Branches = append(r.Branches, i)
		flow(b.From, b.To, i)
	}
	for _, s := range n.Sources {
		i := (s.Volt - volts[s.Plus] + volts[s.Minus]) / s.Ohm
		r.Sources = append(r.Sources, i)
		flow(s.Minus, s.Plus, i)
	}
	for _, l := range n.Loads {
		i := 0.0
		if r.Live[l.Plus] && r.Live[l.Minus] {
			i, _ = l.at(volts[l.Plus] - volts[l.Minus])
		}
		r.Loads = append(r.Loads, i)
		flow(l.Plus, l.Minus, i)
	}
	for k, c := range n.Converters {
		flow(c.OutMinus, c.OutPlus, output[k])
		i := 0.0
		if v := volts[c.InPlus] - volts[c.InMinus]; v > 0 {
			i = input[k] / v
		}
		r.Inputs = append(r.Inputs, i)
		r.Limited = append(r.Limited, state[k] == giving)
		flow(c.InPlus, c.InMinus, i)
	}
	for _, h := range n.Held {
		r.Held = append(r.Held, -balance[h.Node])
		balance[h.Node] = 0
	}
	for _, b := range balance {
		r.Residual = math.Max(r.Residual, math.Abs(b))
	}
	return r
}

// at is a load's current at a voltage, and its slope.
func (l Load) at(v float64) (amps, slope float64) {
	amps, slope = l.Amps+float64(l.Siemens*v), l.Siemens
	if l.Watts != 0 {
		amps += l.Watts / v
		slope -= l.Watts / v / v
	}
	return amps, slope
}
