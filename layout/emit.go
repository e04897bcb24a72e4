package layout

import "strake/layout/geom"

// Phase 10, emit.
// Needs: everything that was decided. Gives: the drawing in points.

func emit(g Graph, a *arrangement, x []int, s *solids, h heights) Sheet {
	var out Sheet
	ports := make([][]geom.Point, len(g.Nodes))
	wires := make([]*PlacedWire, len(g.Wires))
	back := make([]bool, len(g.Wires)) // the load is above
	placed := make([]PlacedWire, len(g.Wires))
	for n := range g.Nodes {
		ports[n] = make([]geom.Point, len(g.Nodes[n].Ports))
	}
	land := func(e End, p geom.Point) {
		if e.Node >= 0 && e.Port >= 0 && e.Port < len(ports[e.Node]) {
			ports[e.Node][e.Port] = p
		}
	}
	for c, col := range a.cols {
		at := a.colX(x, c)
		for i, p := range col.pieces {
			if p.dev >= 0 {
				continue
			}
			line := a.line(c, i, at, s, h)
			note := geom.Point{}
			if a.measures[c][i].note.Height() > 0 {
				note = geom.Point{X: at + a.measures[c][i].note.X0, Y: h.note[c][i]}
			}
			if col.riser {
				w := wires[p.wire]
				for k := len(line) - 1; k >= 0; k-- {
					w.Points = append(w.Points, line[k])
				}
				w.Points, w.Run = tidy(w.Points), geom.Point{X: at, Y: h.level[col.lower]}
				continue
			}
			back[p.wire] = backward(g.Wires[p.wire], col, i)
			placed[p.wire] = PlacedWire{Wire: p.wire, Points: tidy(line), Note: note, Run: Unsaid}
			if len(col.pieces) == 1 {
				placed[p.wire].Run = geom.Point{X: at, Y: line[0].Y}
			}
			wires[p.wire] = &placed[p.wire]
		}
	}
	symbols := make([]PlacedSymbol, len(g.Nodes))
	for k := range a.strips {
		t := &a.strips[k]
		emitStrip(t, geom.Point{X: x[a.stripItem[k]], Y: h.level[t.from]}, s.dir[k], symbols, placed)
	}
	for w := range placed { // from supply to load
		chain := &placed[w]
		if back[w] {
			for i, j := 0, len(chain.Points)-1; i < j; i, j = i+1, j-1 {
				chain.Points[i], chain.Points[j] = chain.Points[j], chain.Points[i]
			}
		}
		land(g.Wires[w].From, chain.Points[0])
		land(g.Wires[w].To, chain.Points[len(chain.Points)-1])
		out.Wires = append(out.Wires, *chain)
	}
	for c, col := range a.cols {
		for i, p := range col.pieces {
			if p.dev < 0 {
				continue
			}
			sym := PlacedSymbol{Node: p.dev, At: geom.Point{X: a.colX(x, c), Y: h.piece[c][i]}, Turn: p.turn}
			if n := a.measures[c][i].note; n.Height() > 0 {
				sym.Beside = geom.Point{X: sym.At.X + n.X0, Y: sym.At.Y + n.Y0}
			}
			symbols[p.dev] = sym
		}
	}
	for l, lv := range a.levels {
		if lv.kind == boxLevel {
			at := geom.Point{X: a.bodyX(x, l), Y: h.level[l]}
			sym := PlacedSymbol{Node: lv.node, At: at, Turn: a.turn[l]}
			n := g.Nodes[lv.node].Note
			if n.Beside.H > 0 {
				low := n.Y
				right := func(c int, p landing) { // level pieces that run over the text
					line := p.line(a.colX(x, c))
					for k := 1; k < line.n; k++ {
						if q, last := line.at[k], line.at[k-1]; q.Y == last.Y && q.Y > 0 && max(q.X, last.X) > at.X+n.X {
							low = max(low, q.Y+air)
						}
					}
				}
				for _, c := range a.above[l] {
					right(c, s.lo[c])
				}
				for _, c := range a.below[l] {
					right(c, s.up[c])
				}
				sym.Beside = at.Add(geom.Point{X: n.X + a.bodies[l].textDX, Y: low})
			}
			symbols[lv.node] = sym
		}
	}
	for n := range g.Nodes {
		switch g.Nodes[n].Form {
		case Symbol:
			symbols[n].Ports = ports[n]
			out.Symbols = append(out.Symbols, symbols[n])
		}
	}
	for l, lv := range a.levels {
		if lv.node < 0 {
			continue
		}
		y := h.level[l]
		line := [2]geom.Point{{X: s.from[l], Y: y}, {X: s.to[l], Y: y}}
		switch lv.kind {
		case barLevel:
			out.Bars = append(out.Bars, PlacedBar{Node: lv.node, Line: line, Name: geom.Point{X: s.name[l].X, Y: y + s.name[l].Y}})
		case boardLevel:
			b := a.bodies[l]
			at := geom.Point{X: a.bodyX(x, l), Y: y}
			p := PlacedBoard{Node: lv.node, Line: line, Rail: [2]geom.Point{at, at.Add(geom.Point{Y: b.rail})}, Name: at.Add(b.name)}
			if !s.drawn[l] {
				p.Line = [2]geom.Point{at, at}
			}
			for _, r := range b.rows {
				p.Rows = append(p.Rows, at.Add(geom.Point{Y: r}))
			}
			out.Boards = append(out.Boards, p)
		}
	}
	return out
}

// line is a wire's way from above to below, with the side wires at its ends.
func (a *arrangement) line(c, i, at int, s *solids, h heights) []geom.Point {
	col := a.cols[c]
	var line []geom.Point
	if i == 0 && col.upper >= 0 {
		y, p := h.level[col.upper], s.up[c]
		way := p.line(at)
		if way.n == 0 {
			line = append(line, geom.Point{X: at, Y: y + p.dy})
		}
		for k := way.n - 1; k >= 0; k-- {
			line = append(line, way.at[k].Add(geom.Point{Y: y}))
		}
	} else {
		line = append(line, geom.Point{X: at, Y: h.piece[c][i-1] + a.measures[c][i-1].height})
	}
	if i == len(col.pieces)-1 && col.lower >= 0 {
		y, p := h.level[col.lower], s.lo[c]
		way := p.line(at)
		if way.n == 0 {
			line = append(line, geom.Point{X: at, Y: y + p.dy})
		}
		for _, q := range way.at[:way.n] {
			line = append(line, q.Add(geom.Point{Y: y}))
		}
	} else {
		line = append(line, geom.Point{X: at, Y: h.piece[c][i+1]})
	}
	return line
}

// tidy drops points that are no bends.
func tidy(line []geom.Point) []geom.Point {
	var out []geom.Point
	for _, p := range line {
		if k := len(out); k > 0 && out[k-1] == p {
			continue
		}
		if k := len(out); k > 1 && (out[k-2].X == out[k-1].X && out[k-1].X == p.X || out[k-2].Y == out[k-1].Y && out[k-1].Y == p.Y) {
			out[k-1] = p
			continue
		}
		out = append(out, p)
	}
	return out
}

// backward tells whether a wire's load is its upper end.
func backward(w Wire, col column, i int) bool {
	if i == 0 && col.upper >= 0 {
		return col.upAt == w.To && col.upAt != w.From
	}
	above := col.pieces[i-1].dev
	return w.To.Node == above && w.From.Node != above
}
