package resolve

import (
	"slices"
	"strings"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/source"
	"strake/lang/syntax"
)

// yardPart is a kind of the yard's own: a kind with facts already stated.
type yardPart struct {
	name   syntax.Word
	kind   *Kind // nil: not known, and said so
	facts  circuit.Facts
	broken bool
	own    bool // of the craft's own file
}

// declareParts resolves the parts of all files: first their names, so that
// their order does not matter.
func (r *resolver) declareParts(files []*syntax.File) {
	var found []*syntax.Part
	for i, file := range files {
		if file == nil {
			continue
		}
		for _, s := range file.Statements {
			switch s := s.(type) {
			case *syntax.Part:
				if before := r.parts[s.Name.Text]; before != nil {
					r.double(s.Name, before.name.Span, "part")
					continue
				}
				r.tellKindAsName(s.Name, "part")
				r.parts[s.Name.Text] = &yardPart{name: s.Name, own: i == 0}
				found = append(found, s)
			case *syntax.Use:
			default:
				if i > 0 {
					r.say(notAPart, s.At(), "move it into the craft's own file", "a file that is brought in by `use` holds parts only")
				}
			}
		}
	}
	for _, s := range found {
		r.part(s, r.parts[s.Name.Text])
	}
}

func (r *resolver) part(s *syntax.Part, p *yardPart) {
	p.kind = kindNamed(s.Kind.Text)
	if p.kind != nil {
		p.broken = !read(r, vocabularyOf(p.kind), s.List, &p.facts)
		return
	}
	p.broken = true
	f := r.say(unknownKind, s.Kind.Span, "name one of the kinds of the reference", "`%s` is no kind", s.Kind.Text)
	if other := r.parts[s.Kind.Text]; other != nil && other != p {
		r.used["part "+s.Kind.Text] = true
		f.Message = "`" + s.Kind.Text + "` is a part itself; a part is made from a kind"
		if other.kind != nil {
			f.Cure = "write `" + other.kind.Name + "`"
		}
		related(f, other.name.Span, "the part")
		return
	}
	r.tellKind(f, s.Kind, nil)
}

// ownParts is the parts of the craft's own file, by name.
func (r *resolver) ownParts() []*yardPart {
	var list []*yardPart
	for _, p := range r.parts {
		if p.own {
			list = append(list, p)
		}
	}
	slices.SortFunc(list, func(a, b *yardPart) int { return circuit.Compare(a.name.Text, b.name.Text) })
	return list
}

func kindNames() []string {
	var names []string
	for _, k := range table {
		names = append(names, k.Name)
	}
	return names
}

// kindOf finds the kind that a head names, which may be a part's.
func (r *resolver) kindOf(w syntax.Word) (*Kind, *yardPart) {
	if k := kindNamed(w.Text); k != nil {
		return k, nil
	}
	r.used["part "+w.Text] = true
	if p := r.parts[w.Text]; p != nil {
		return p.kind, p
	}
	if i, ok := r.missing["kind "+w.Text]; ok {
		f := &r.findings[i]
		related(f, w.Span, "`%s` stands here, too", w.Text)
		if len(f.Edits) > 0 {
			f.Edits = append(f.Edits, diag.Edit{Span: w.Span, New: f.Edits[0].New})
		}
		return nil, nil
	}
	if r.isUnread(w.Text) {
		return nil, nil
	}
	f := r.say(unknownKind, w.Span, "name one of the kinds of the reference, or make a part: `part "+w.Text+" is load`", "`%s` is neither a kind nor a part", w.Text)
	if strings.ToLower(w.Text) != w.Text {
		f.Cure = "a kind stands here, such as `battery`, `fuse`, `bus` or `load`"
	}
	r.tellKind(f, w, r.partNames())
	r.missing["kind "+w.Text] = len(r.findings) - 1
	return nil, nil
}

func (r *resolver) partNames() []string {
	var names []string
	for name := range r.parts {
		names = append(names, name)
	}
	slices.SortFunc(names, circuit.Compare)
	return names
}

// double tells a second declaration of a name.
func (r *resolver) double(w syntax.Word, before source.Span, what string) {
	f := r.say(doubleName, w.Span, "give one of them another name", "there are two %ss `%s`", what, w.Text)
	related(f, before, "declared here before")
}

// tellKindAsName finds a name that is already a kind's.
func (r *resolver) tellKindAsName(w syntax.Word, what string) {
	if kindNamed(w.Text) != nil {
		r.used[what+" "+w.Text] = true
		r.say(kindAsName, w.Span, "choose another name, such as `"+w.Text+"-1`", "`%s` is a kind, so no %s can be called so", w.Text, what)
	}
}
