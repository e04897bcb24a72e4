package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang"
	"strake/lang/diag"
)

// A conduit with several cables in it takes both factors; a cable in conduit is not free.
func TestAConduitMayHoldSeveralCables(t *testing.T) {
	capacity := func(how string) float64 {
		text := onBar + "run PB [2 m 35 mm2, " + how + "] load L1 in house at locker: 500 W\n"
		r := lang.Compile(nil, "boat.strake", text)
		for _, f := range r.Findings {
			assert.NotEqual(t, diag.Error, f.Severity, f.Message)
		}
		for _, c := range r.Plan.Cables {
			if c.Of.ID == "PB-L1" {
				return float64(c.Ampacity.Value)
			}
		}
		return 0
	}
	assert.Less(t, capacity("in conduit, bundled 12"), min(capacity("in conduit"), capacity("bundled 12")))
	assert.Positive(t, capacity("in conduit, bundled 12"))
	twice := judged(onBar+"run PB [2 m 35 mm2, free, in conduit] load L1 in house at locker: 500 W\n", "said-twice")
	assert.Len(t, twice, 1)
}

// Words that a reader tries are answered with those of the language.
func TestWordsThatWereTried(t *testing.T) {
	cure := func(text, rule string) string {
		for _, f := range judged(text, rule) {
			return f.Cure
		}
		return ""
	}
	assert.Contains(t, cure(steel+"measured R2: time 40 ms by \"JM\" dated 2026-11-18\n", "unknown-property"), "`trip 40 ms`")
	assert.Contains(t, cure(strings.Replace(sun, "isc 6 A", "short-circuit 6 A", 1), "unknown-property"), "`isc 6 A`")
	assert.Contains(t, cure(strings.Replace(steel, "bond E2 [", "bond hull [", 1), "unknown-name"), "`earth E9 \"Hull\"`")
}
