// Package catalogue holds every rule, one a file.
package catalogue

import "gapwise/rules/rule"

// All lists the rules in the order they are documented: by what they are about, then by name.
func All() []*rule.Rule {
	return []*rule.Rule{
		// Topology and polarity
		&legToLegShort, &feederCrossed, &frogShortsWhenSet, &legBackFed, &crossingFrogsConflict, &frogDead,
		&loopUngapped, &loopGapOneRail, &loopGapMissingEnd,
		&reverserMissing, &reversingSectionShort, &reverserTripsLate,
		&gapPolarityMismatch, &gapMissingBetweenDistricts, &gapOneRail,
		&turntableCrossesPolarity, &turntableBridgeDead,
		&boostersInParallel, &boostersOutOfPhase,
		&boostersDifferInVolts, &boostersWithoutCommonReference, &commandStationsMeet,
		&reversingSectionsTouch, &breakersOpenDifferentLegs, &busClosedRing,
		&changeoverTiesSources, &cabMeetsDCC, &programmingTrackJoined,
		// Feeding
		&railDead, &railOneLegOnly, &feederMissingAtTurnoutSide, &feederMissingAtExpansionGap,
		&railLengthWithoutFeeder, &feederSpacing, &feederTooLong, &onlyOneFeeder, &reversingGapWeaklyFed,
		// Blocks and detection
		&detectorBypassed, &detectorOnWrongLeg, &railSharedByDetectors,
		&detectorDiffersFromMeant, &detectorSeesMoreThanItsBlock, &detectorSeesNothing,
		&blockDiffersFromMeant, &blockUndeclared, &blockShorterThanTrain,
		&sidingsNotInsulated, &turnoutOutsideMainBlock, &helixNotApart,
		// Gaps
		&gapUnfilled, &expansionGapOffCentre, &gapInLooseTrack,
		&gapStaggered, &gapBeyondFoulingPoint, &gapShortOfFoulingPoint,
		&expansionGapMissing, &expansionGapPartsDistricts, &trackEndConducts, &liftOutApproachLive,
		// Power
		&householdMains, &sourceExceedsLimitedPower,
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
