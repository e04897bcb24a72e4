package resolve

import (
	"fmt"
	"slices"
	"strconv"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
	"strake/lang/source"
	"strake/lang/syntax"
)

// guard is what a `ways` row puts into each of its ways.
type guard struct {
	kind   *Kind
	part   *yardPart
	facts  circuit.Facts
	broken bool
	status circuit.Status
	span   source.Span
	name   syntax.Word
}

// board makes the ways of a board with their devices.
func (r *resolver) board(s *syntax.Item) {
	items := r.heads[&s.Head]
	if len(items) == 0 {
		return
	}
	it := items[0]
	isBoard := it.Kind == "board"
	switch {
	case len(s.Rows) == 0:
		if isBoard {
			for _, it := range items {
				it.Board = &circuit.Board{}
			}
		}
		return
	case len(items) > 1:
		r.say(badRange, s.Head.Ref.Span, "write the boards one by one", "rows belong to one board, not to %s", plural(len(items), "thing"))
		return
	case !isBoard:
		if it.Kind != "" {
			f := r.say(rowsOffBoard, s.Head.Kind.Span, "write `board` for a bar with ways, or take the braces out", "%s has no ways; a board has", article(string(it.Kind)))
			f.Items = []string{it.Ref}
			it.Broken = true
		}
		it.Board = &circuit.Board{}
	default:
		it.Board = &circuit.Board{}
	}
	guards := r.guards(s.Rows)
	rows := map[int]*syntax.Row{}
	var numbers []int
	for n := range guards {
		numbers = append(numbers, n)
	}
	for i := range s.Rows {
		row := &s.Rows[i]
		if row.Way == nil {
			continue
		}
		for _, n := range r.wayNumbers(row.Way.First, row.Way.Last) {
			if before := rows[n]; before != nil {
				f := r.say(doubleWay, row.Way.First.Span, "give one of them a number that is spare", "way %d is described twice", n)
				related(f, before.Way.First.Span, "described here before")
				continue
			}
			if len(guards) > 0 && guards[n] == nil {
				guards[n] = r.tellNoWay(row, n, guards)
				numbers = append(numbers, n)
			}
			if guards[n] == nil {
				numbers = append(numbers, n)
			}
			rows[n] = row
		}
	}
	slices.Sort(numbers)
	for _, n := range numbers {
		r.way(it, n, guards[n], rows[n])
	}
}

// guards is what protects each way.
func (r *resolver) guards(rows []syntax.Row) map[int]*guard {
	guards := map[int]*guard{}
	for i := range rows {
		ways := rows[i].Ways
		if ways == nil {
			continue
		}
		g := &guard{status: statusOf(rows[i].Status, circuit.Fitted), span: rows[i].Span, name: ways.Kind}
		g.kind, g.part = r.kindOf(ways.Kind)
		if g.part != nil {
			g.facts, g.broken = g.part.facts, g.part.broken
		}
		switch {
		case g.kind == nil:
			g.broken = true
		case g.kind.Nature().Ends != circuit.TwoEnds || g.kind.Nature().Converts:
			r.say(notADevice, ways.Kind.Span, "write `fuse`, `breaker` or `rcbo`", "%s cannot stand between a board's bar and its ways", article(g.kind.Name))
			g.kind, g.broken = nil, true
		default:
			g.broken = !read(r, vocabularyOf(g.kind), ways.List, &g.facts) || g.broken
		}
		last := ways.Last
		if n := countOfWays(rows, ways); n > 0 {
			f := r.say(noSuchWay, ways.First.Span, fmt.Sprintf("write `ways 1..%d`", n), "`ways %d` is way %d alone, and the board describes others", n, n)
			f.Edits = []diag.Edit{{Span: ways.First.Span, New: fmt.Sprintf("1..%d", n)}}
			ways.First.Text = "1"
		}
		for _, n := range r.wayNumbers(ways.First, &last) {
			if before := guards[n]; before != nil {
				f := r.say(doubleWay, ways.First.Span.Join(ways.Last.Span), "part the numbers between the two rows", "way %d stands in two `ways` rows", n)
				related(f, before.span, "the other one")
				break
			}
			guards[n] = g
		}
	}
	return guards
}

// countOfWays is the number of a `ways` row that stands alone and means how many
// ways there are, as ways below it are described; 0 when it does not.
func countOfWays(rows []syntax.Row, ways *syntax.Ways) int {
	n, err := strconv.Atoi(ways.First.Text)
	if err != nil || ways.Last.Span != ways.First.Span {
		return 0
	}
	below := false
	for _, row := range rows {
		switch {
		case row.Ways != nil && row.Ways != ways:
			return 0
		case row.Way != nil:
			m, err := strconv.Atoi(row.Way.First.Text)
			below = below || err == nil && m < n
		}
	}
	if !below {
		return 0
	}
	return n
}

// wayNumbers is the numbers of a way or of a range of ways.
func (r *resolver) wayNumbers(first syntax.Word, last *syntax.Word) []int {
	if last == nil {
		last = &first
	}
	span := first.Span.Join(last.Span)
	from, err1 := strconv.Atoi(first.Text)
	to, err2 := strconv.Atoi(last.Text)
	if err1 != nil || err2 != nil || from < 1 || to > largestCount {
		r.say(badRange, span, "number the ways with whole numbers from 1", "ways are numbered from 1 to %d with whole numbers", largestCount)
		return nil
	}
	if from > to {
		r.say(badRange, span, fmt.Sprintf("write `%d..%d`", to, from), "the range `%s..%s` runs downwards", first.Text, last.Text)
		return nil
	}
	var numbers []int
	for n := from; n <= to; n++ {
		numbers = append(numbers, n)
	}
	return numbers
}

// tellNoWay reports a way beyond the board's; the highest way's device stands in.
func (r *resolver) tellNoWay(row *syntax.Row, n int, guards map[int]*guard) *guard {
	top := 0
	var last *guard
	for m, g := range guards {
		if m > top {
			top, last = m, g
		}
	}
	key := fmt.Sprintf("ways at %s:%d", last.span.File.Name, last.span.Start) // of two boards with equal rows each has its own
	if i, told := r.missing[key]; told {
		f := &r.findings[i]
		related(f, row.Way.First.Span, "nor way %d", n)
		f.Cure = fmt.Sprintf("take spare ways, or write `ways 1..%d`", max(n, top))
		return last
	}
	f := r.say(noSuchWay, row.Way.First.Span, fmt.Sprintf("take a spare way, or write `ways 1..%d`", max(n, top)), "the board has no way %d; its `ways` rows end at %d", n, top)
	related(f, last.span, "its ways")
	r.missing[key] = len(r.findings) - 1
	return last
}

// way makes one way of a board, with its device.
func (r *resolver) way(board *circuit.Item, n int, g *guard, row *syntax.Row) {
	w := &circuit.Way{Board: board, Number: n, Status: board.Status, Span: board.Span}
	ref := fmt.Sprintf("%s.%d", board.Ref, n)
	if row != nil {
		w.Span = row.Span
		w.Status = max(w.Status, statusOf(row.Status, circuit.Fitted))
		if row.Way.Label != nil {
			w.Label = row.Way.Label.Text
		}
	}
	board.Board.Ways = append(board.Board.Ways, w)
	if g == nil {
		if row != nil && len(row.Way.Protect) > 0 && !r.isUnread("ways") {
			if i, told := r.missing["ways of "+board.Ref]; told {
				related(&r.findings[i], row.Way.Protect[0].Span, "and here")
				return
			}
			f := r.say(wayUnguarded, row.Way.Protect[0].Span, fmt.Sprintf("write `ways 1..%d is fuse` as a row of the board", n), "`%s` is no property of a way alone; the board does not say what protects its ways", row.Way.Protect[0].Span.Text())
			f.Items = []string{ref}
			r.missing["ways of "+board.Ref] = len(r.findings) - 1
		}
		return
	}
	device := &circuit.Item{Ref: ref, Status: max(w.Status, g.status), Place: board.Place, Facts: g.facts, Way: w,
		Ports: portsOf(g.kind), Span: g.span, RefSpan: g.span, Broken: g.broken || board.Broken}
	if g.kind != nil {
		device.Kind = circuit.Kind(g.kind.Name)
	}
	if g.part != nil {
		device.Part = g.part.name.Text
	}
	if row != nil {
		device.Span, device.RefSpan = row.Span, row.Way.First.Span
		if twin := twinDevice(board, w); twin != nil {
			device.Facts, device.Broken = twin.Facts, twin.Broken
		} else if g.kind != nil && !read(r, vocabularyOf(g.kind), r.protect(row), &device.Facts) {
			device.Broken = true
		}
	}
	w.Device = device
	r.kinds[device] = g.kind
	if r.ghosts[board] {
		r.ghosts[device] = true
		return
	}
	r.sys.Items = append(r.sys.Items, device)
}

// protect is the plain numbers of a way's device. Watts before the label belong
// to what the way feeds.
func (r *resolver) protect(row *syntax.Row) []syntax.Property {
	return slices.DeleteFunc(slices.Clone(row.Way.Protect), func(p syntax.Property) bool {
		q := p.Terms[0].Qty
		if q == nil || q.Unit == nil || row.Way.Label != nil {
			return false
		}
		unit, _ := quantity.FindUnit(q.Unit.Text)
		if unit.Base != "W" && unit.Base != "VA" {
			return false
		}
		r.say(wrongUnit, p.Span, fmt.Sprintf("write a label before it, as in `\"Cabin fan\" %s`", p.Span.Text()), "what a way feeds stands after the way's label; before it stands what protects the way")
		return true
	})
}

// twinDevice is the device of another way of the same row, whose numbers were
// read already.
func twinDevice(board *circuit.Item, w *circuit.Way) *circuit.Item {
	for _, other := range board.Board.Ways {
		if other != w && other.Span == w.Span && other.Device != nil {
			return other.Device
		}
	}
	return nil
}

// waysIn is the devices of the ways that a reference names, or their loads; of a
// board that does not say what protects its ways, the board.
func (r *resolver) waysIn(board *circuit.Item, ref *syntax.Reference) []*circuit.Item {
	if r.ghosts[board] || board.Broken && board.Board == nil {
		return []*circuit.Item{r.ghost(ref.Span.Text(), ref.Span)}
	}
	if board.Board == nil {
		f := r.say(noSuchWay, ref.Port.Span, "write `"+board.Ref+"` alone", "`%s` is %s and has no ways", board.Ref, article(string(board.Kind)))
		f.Items = []string{board.Ref}
		related(f, board.RefSpan, "`%s` is described here", board.Ref)
		return []*circuit.Item{r.ghost(ref.Span.Text(), ref.Span)}
	}
	var list []*circuit.Item
	for _, n := range r.wayNumbers(*ref.Port, ref.To) {
		i := slices.IndexFunc(board.Board.Ways, func(w *circuit.Way) bool { return w.Number == n })
		switch {
		case i < 0:
			f := r.say(noSuchWay, ref.Span, fmt.Sprintf("write `ways 1..%d is fuse` as a row of `%s`, or name one of its ways", n, board.Ref), "the board `%s` has no way %d", board.Ref, n)
			related(f, board.RefSpan, "the board")
			list = append(list, r.ghost(ref.Span.Text(), ref.Span))
		case ref.Port2 != nil && ref.Port2.Text == "load" && board.Board.Ways[i].Load != nil:
			list = append(list, board.Board.Ways[i].Load)
		case ref.Port2 != nil && ref.Port2.Text == "load":
			r.say(unknownPort, ref.Port2.Span, "name what the way feeds by its own reference", "way %d of `%s` has no load of its own", n, board.Ref)
			list = append(list, r.ghost(ref.Span.Text(), ref.Span))
		case board.Board.Ways[i].Device == nil:
			list = append(list, board)
		default:
			list = append(list, board.Board.Ways[i].Device)
		}
	}
	if len(list) == 0 {
		list = append(list, r.ghost(ref.Span.Text(), ref.Span))
	}
	return list
}

// rows lays the cables of a board's ways.
func (r *resolver) rows(s *syntax.Item) {
	items := r.heads[&s.Head]
	if len(items) != 1 || items[0].Board == nil {
		return
	}
	done := map[int]bool{}
	for i := range s.Rows {
		row := &s.Rows[i]
		if row.Way == nil {
			continue
		}
		var ways []*circuit.Way
		for _, w := range items[0].Board.Ways {
			if w.Span == row.Span && !done[w.Number] {
				done[w.Number] = true
				ways = append(ways, w)
			}
		}
		if len(ways) > 0 {
			r.wayRow(row, ways)
		}
	}
}

// wayRow lays what one row of ways feeds.
func (r *resolver) wayRow(row *syntax.Row, ways []*circuit.Way) {
	way := row.Way
	status := statusOf(row.Status, circuit.Fitted)
	ch := &chain{verb: "run", status: max(status, ways[0].Board.Status), links: way.Chain, ways: ways, start: landing{span: row.Way.First.Span, port: "out"}}
	for _, w := range ways {
		if w.Device != nil {
			ch.start.items = append(ch.start.items, w.Device)
		} else {
			ch.start.items = append(ch.start.items, w.Board)
			ch.start.port = ""
		}
	}
	fed := way.Head != nil || len(way.List) > 0
	open := len(way.Chain) > 0 && way.Chain[len(way.Chain)-1].Land.Span.IsZero() && !way.Chain[len(way.Chain)-1].Land.Broken
	switch {
	case fed && len(way.Chain) == 0:
		r.say(wayWithoutCable, row.Span, "write its cable at the end of the row; `[]` is a cable of which nothing is known yet", "this way feeds something without a cable")
		return
	case fed && !open:
		what := source.Span{}
		if way.Head != nil {
			what = way.Head.Span
		} else {
			what = way.List[0].Span.Join(way.List[len(way.List)-1].Span)
		}
		r.say(wayFeedsTwice, what, "take it out, and describe what the cable lands on where it lands", "the cable of this way lands on something else, so it cannot feed `%s`", what.Text())
	case open:
		load := r.wayLoads(row, ways)
		ch.load = &load
	}
	r.chain(ch)
}

// wayLoads is what a row of ways feeds when their last cable lands on nothing else.
func (r *resolver) wayLoads(row *syntax.Row, ways []*circuit.Way) landing {
	way := row.Way
	l := landing{span: row.Span, head: &syntax.Head{}}
	if way.Head != nil {
		l.head, l.span = way.Head, way.Head.Span
	}
	var items []*circuit.Item
	if way.Head != nil && way.Head.Ref != nil {
		items = r.heads[way.Head]
		l.items = items
		l.span = way.Head.Ref.Span
		r.dots(&l, way.Head.Ref)
		if len(items) != len(ways) && len(items) != 1 {
			return l // lay tells
		}
	} else {
		head := way.Head
		if head == nil {
			head = &syntax.Head{Span: row.Span, Kind: syntax.Word{Text: "load", Span: row.Span}, List: way.List}
		}
		model, kind := r.model(head, ways[0].Status)
		for _, w := range ways {
			it := *model
			it.Ref = fmt.Sprintf("%s.%d.load", w.Board.Ref, w.Number)
			it.Ports = portsOf(kind)
			added := &it
			r.kinds[added] = kind
			items = append(items, added)
			if r.ghosts[w.Board] {
				r.ghosts[added] = true
			} else {
				r.sys.Items = append(r.sys.Items, added)
			}
		}
		l.items = items
	}
	for i, w := range ways {
		it := items[min(i, len(items)-1)]
		it.Status = max(it.Status, w.Status)
		it.Broken = it.Broken || w.Device != nil && w.Device.Broken
		if it.Label == "" {
			it.Label = w.Label
		}
		if it.Way == nil {
			it.Way = w
		}
		w.Load = it
	}
	return l
}

// finishWays tells spare ways, and gives a load without a power that of its way.
func (r *resolver) finishWays() {
	for _, it := range r.sys.Items {
		if it.Board == nil {
			continue
		}
		for _, w := range it.Board.Ways {
			w.Spare = w.Cable == nil
			load, device := w.Load, w.Device
			if load == nil || device == nil || load.Broken || load.Nature().Ends != circuit.OneEnd || load.Way != w {
				continue
			}
			f := &load.Facts
			silent := f.Power.State == circuit.Unstated && f.Current.State == circuit.Unstated && f.Apparent.State == circuit.Unstated
			if silent && device.Facts.Current.Known() {
				f.Current = device.Facts.Current
				f.Current.State = circuit.Stated
				r.assumed(device.Ref, fmt.Sprintf("its load takes the way's rating, %s, as no power is stated", f.Current.Value), "", w.Span)
			}
		}
	}
}
