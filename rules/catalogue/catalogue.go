// Package catalogue holds every rule, one a file.
package catalogue

import "gapwise/rules/rule"

// All lists the rules in the order they are documented: by what they are about, then by name.
func All() []*rule.Rule {
	return []*rule.Rule{
		// Topology and polarity
		&legToLegShort, &feederCrossed, &frogShortsWhenSet, &legBackFed, &crossingFrogsConflict,
		&loopUngapped, &loopGapOneRail, &loopGapMissingEnd,
		&reverserMissing, &reversingSectionShort, &reverserTripsLate,
		&gapPolarityMismatch, &gapMissingBetweenDistricts, &gapOneRail,
		&turntableCrossesPolarity, &turntableBridgeDead,
		&boostersInParallel, &boostersOutOfPhase,
		// Feeding
		&railDead, &railOneLegOnly, &feederMissingAtTurnoutSide, &feederMissingAtExpansionGap,
		// Blocks and detection
		&detectorBypassed, &blockDiffersFromMeant, &blockShorterThanTrain,
		&sidingsNotInsulated, &turnoutOutsideMainBlock, &helixNotApart,
		// Gaps
		&gapUnfilled, &expansionGapOffCentre, &gapInLooseTrack,
		// Power
		&householdMains,
		// The layout file
		&acceptanceStale,
	}
}

// ByID finds a rule; nil when there is none of that name.
func ByID(id string) *rule.Rule {
	for _, r := range All() {
		if r.ID == id {
			return r
		}
	}
	return nil
}
