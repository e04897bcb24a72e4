package lang_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang"
	"strake/lang/diag"
	"strake/lang/rule"
)

const (
	head = "craft \"Small boat\" {\n    cable class 5, tinned, 105 degC, free\n}\ndomain house: dc 12 V, 10.5 V to 14.6 V\nplace locker \"Locker\": 40 degC\n"
	// two batteries, each with its fuse too far away
	farFuses = head + `battery B1..B2 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1..B2 [0.8 m 25 mm2] fuse F1..F2 at locker: class t, 125 V, breaks 20 kA, 60 A
    [0.1 m 25 mm2] isolator Q1..Q2 at locker: 100 A, 32 V, 1 pole, load-break
    [0.5 m 25 mm2] load L1..L2 at locker: 60 W
`
)

// judged is what was found of one rule.
func judged(text, name string) []diag.Finding {
	var list []diag.Finding
	for _, f := range lang.Compile(nil, "craft.strake", text).Findings {
		if f.Rule == name {
			list = append(list, f)
		}
	}
	return list
}

func TestRulesAreNamedAlike(t *testing.T) {
	kebab := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	for _, info := range rule.All() {
		assert.Regexp(t, kebab, info.Rule)
		assert.LessOrEqual(t, len(info.Title), 90, info.Title)
		assert.Equal(t, strings.ToLower(info.Title[:1]), info.Title[:1], info.Title)
		for _, text := range []string{info.Title, info.Why} {
			assert.NotContains(t, text, "complies", info.Rule)
			assert.NotContains(t, text, "n't", info.Rule)
		}
	}
}

func TestOneCauseOnARangeIsOneMessage(t *testing.T) {
	found := judged(farFuses, "fuse-beyond-reach")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Message, "0.8 m")
	assert.Contains(t, found[0].Message, "so for B2-F2")
}

func TestAnAcceptanceAnswersForOneItem(t *testing.T) {
	accepted := 0
	found := judged(farFuses+"accept fuse-beyond-reach on F1 because \"in a locked trunk\" by \"JM\" dated 2026-11-02\n", "fuse-beyond-reach")
	require.Len(t, found, 2)
	for _, f := range found {
		if f.Accepted != "" {
			accepted++
			assert.Contains(t, f.Items, "F1")
			assert.NotContains(t, f.Items, "F2")
			assert.Contains(t, f.Accepted, "JM")
		}
	}
	assert.Equal(t, 1, accepted)
	assert.Equal(t, 1, diag.ExitStatus(found, false), "the other one still counts")
}

func TestAnAcceptanceSilencesNoVoltage(t *testing.T) {
	text := head + `battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 12 V, breaks 20 kA, 60 A
    [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [0.5 m 25 mm2] load L1 at locker: 60 W
accept voltage-rating-too-low on F1 because "it always was so" by "JM" dated 2026-11-02
`
	found := judged(text, "voltage-rating-too-low")
	require.Len(t, found, 1)
	assert.Empty(t, found[0].Accepted)
	assert.Contains(t, found[0].Cure, "does not silence")
}

func TestAnAcceptanceThatMeetsNothingIsTold(t *testing.T) {
	text := head + "battery B1 in house at locker: agm, 12 V, 75 Ah\naccept volt-drop on B1 because \"short\" by \"JM\" dated 2026-11-02\n"
	require.Len(t, judged(text, "acceptance-unused"), 1)
}

// A not verified names a fact, and goes when the fact is written.
func TestNotVerifiedGoesWithTheFact(t *testing.T) {
	for _, c := range []struct{ rule, without, with string }{
		{"breaking-capacity-too-low", ", resistance 6 mohm", ""},
		{"switch-not-load-break", ", load-break", ""},
		{"fuse-beyond-reach", "[0.1 m 25 mm2] fuse", "[25 mm2] fuse"},
	} {
		whole := `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain drive: dc 48 V, 44 V to 58.4 V
place locker "Locker": 40 degC
battery B1 in drive at locker: lfp, 51.2 V, 100 Ah, discharge 100 A, charge 50 A, terminals 105 degC, resistance 6 mohm
run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 60 A
    [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 80 V, 1 pole, load-break [0.5 m 25 mm2] load L1 at locker: 60 W
`
		assert.Empty(t, judged(whole, c.rule), c.rule)
		found := judged(strings.Replace(whole, c.without, c.with, 1), c.rule)
		if assert.Len(t, found, 1, c.rule) {
			assert.Equal(t, diag.NotVerified, found[0].Severity)
			assert.NotEmpty(t, found[0].Missing)
			assert.NotEmpty(t, found[0].Cure)
		}
	}
}

func TestAFindingOfWhatIsOnlyPreparedSaysSo(t *testing.T) {
	text := head + `battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A
    [0.1 m 25 mm2] isolator Q1 at locker: 100 A, 32 V, 1 pole, load-break [0.5 m 25 mm2] bus PB in house at locker: 100 A
prepared run PB [link] fuse F2 at locker: class t, 12 V, breaks 20 kA, 30 A [2 m 10 mm2] load L1 at locker: 60 W
`
	found := judged(text, "voltage-rating-too-low")
	require.Len(t, found, 1)
	assert.Equal(t, "fully-equipped", found[0].Configuration)
}

func TestTheSummaryCountsWhatIsPrinted(t *testing.T) {
	result := lang.Compile(nil, "craft.strake", farFuses)
	failed, danger, open := 0, 0, 0
	for _, f := range result.Findings {
		switch f.Severity {
		case diag.Danger:
			failed, danger = failed+1, danger+1
		case diag.Fault:
			failed++
		case diag.NotVerified:
			open++
		}
	}
	assert.Equal(t, failed, result.Summary.Failed)
	assert.Equal(t, danger, result.Summary.Danger)
	assert.Equal(t, open, result.Summary.NotVerified)
	assert.Positive(t, result.Summary.Passed)
}

// The seeded mistakes of the examples, by name.
func TestSeededMistakes(t *testing.T) {
	for name, want := range map[string][]string{
		"marrowfen":   {"protected-at-one-end-only", "pole-not-switched", "holder-voltage-too-low", "must-live-behind-isolator", "bank-voltage"},
		"brackenmole": {"voltage-rating-too-low", "device-above-cable", "volt-drop", "stop-breaks-nothing", "insulated-pole-bonded"},
		"bodkinet":    {"string-tapped", "voltage-rating-too-low", "device-above-cable"},
		"quillbarrow": {"bank-without-isolator", "array-voltage-too-high", "neutral-earth-bonds", "residual-protection-missing",
			"charger-without-fuse-at-battery", "bank-voltage", "shore-earth-through-transformer"},
		"sedgehollow": {"array-voltage-too-high", "neutral-earth-bonds", "prepared-way-on", "no-solution"},
	} {
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(filepath.Join("..", "examples", name+"-mistakes.strake"))
			require.NoError(t, err)
			var got []string
			for _, f := range lang.Compile(nil, name, string(text)).Findings {
				if f.Severity <= diag.Fault && !slices.Contains(got, f.Rule) {
					got = append(got, f.Rule)
				}
			}
			assert.ElementsMatch(t, want, got, "each mistake is found, and nothing else is accused")
		})
	}
}

// Those that stand in one row are told in that row.
func TestSeededMistakesAreToldInTheirRow(t *testing.T) {
	for name, rules := range map[string][]string{
		"marrowfen":   {"protected-at-one-end-only", "pole-not-switched", "holder-voltage-too-low", "bank-voltage"},
		"brackenmole": {"voltage-rating-too-low", "device-above-cable", "volt-drop", "stop-breaks-nothing", "insulated-pole-bonded"},
		"bodkinet":    {"string-tapped", "voltage-rating-too-low", "device-above-cable"},
		"quillbarrow": {"residual-protection-missing", "charger-without-fuse-at-battery", "bank-voltage", "shore-earth-through-transformer"},
		"sedgehollow": {"array-voltage-too-high", "neutral-earth-bonds", "prepared-way-on"},
	} {
		text, err := os.ReadFile(filepath.Join("..", "examples", name+"-mistakes.strake"))
		require.NoError(t, err)
		for _, rule := range rules {
			found := judged(string(text), rule)
			require.NotEmpty(t, found, "%s: %s", name, rule)
			for _, f := range found {
				if f.Severity <= diag.Fault {
					row := f.Span.From().Line
					assert.Contains(t, strings.Split(string(text), "\n")[row-1], "# MISTAKE", "%s:%d %s", name, row, rule)
				}
			}
		}
	}
}

// A battery in a string has no domain of its own: its voltage is that of its row,
// and what is written of it is not said to be missing.
func TestATappedMemberIsTakenByItsOwnNumbers(t *testing.T) {
	text := head + `battery B1..B2 at locker: agm, 6 V, 200 Ah, resistance 3 mohm, terminals 105 degC
bank WB in house is B1..B2 in series [0.3 m 50 mm2]
run B2 [0.1 m 2.5 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 10 A [2 m 2.5 mm2] load L1 at locker: 6 W
`
	require.NotEmpty(t, judged(text, "string-tapped"))
	assert.Empty(t, judged(text, "short-circuit-withstand"))
	assert.Empty(t, judged(text, "breaking-capacity-too-low"))
	found := judged(strings.Replace(text, ", resistance 3 mohm", "", 1), "short-circuit-withstand")
	require.NotEmpty(t, found)
	assert.Contains(t, found[0].Missing, "resistance")
}

// A number beside its limit is printed so that the two differ, and a verb as
// many as there are things.
func TestMessagesSayTheDifference(t *testing.T) {
	text := head + `battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1 [0.1 m 25 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 80 A
    [0.1 m 25 mm2] isolator Q1 at locker: 16.002 A, 32 V, 1 pole, load-break [0.5 m 25 mm2] load L1 at locker: 16.004 A
`
	found := judged(text, "switch-overloaded")
	require.Len(t, found, 1)
	assert.Contains(t, found[0].Message, "carries 16.004 A and is rated 16 A")
	found = judged(head+`battery B1..B2 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
run B1..B2 [0.1 m 25 mm2] fuse F1..F2 at locker: class t, 125 V, breaks 20 kA, 60 A [0.1 m 25 mm2] bus PB in house at locker: 200 A
run PB [0.1 m 6 mm2] isolator Q1 at locker: 150 A, 32 V, 1 pole, load-break [0.5 m 6 mm2] load L1 at locker: 60 W
`, "device-above-cable")
	require.NotEmpty(t, found)
	assert.Contains(t, found[0].Message, "F1 and F2 of 120 A guard the cable")
}

// What hangs on a bar that nothing feeds is told with it, in the right number.
func TestAnIslandIsToldOnce(t *testing.T) {
	one := head + "run bus PX in house at locker: 50 A [2 m 4 mm2] load L1 at locker: 20 W\n"
	two := one + "run PX [2 m 4 mm2] load L2 at locker: 20 W\n"
	for text, said := range map[string]string{one: "nothing feeds bus PX, nor what hangs on it", two: "nothing feeds bus PX, nor the 2 things that hang on it"} {
		found := judged(text, "load-without-source")
		require.Len(t, found, 1)
		assert.Equal(t, said, found[0].Message)
	}
}

// While a text has errors, a name may stand in what could not be read.
func TestNoNameIsUnusedBesideErrors(t *testing.T) {
	text := head + "place helm: 30 degC\nlamp L1 in house at helm 20 W\n"
	assert.Empty(t, judged(text, "name-not-used"))
	assert.Len(t, judged(strings.Replace(text, "lamp L1 in house at helm 20 W\n", "", 1), "name-not-used"), 3)
}
