// Package dcc says what a DCC signal makes of a short, a pair of wires and what hangs across it.
//
// A short's current under DCC never reaches what direct current would: the pair's inductance lets
// it climb only until the polarity turns over. A network of resistances and inductances, seen from
// the short, is a sum of branches of a resistance and an inductance in series, and for such sums
// peak, mean and rms follow without time steps.
//
// Edges are taken as immediate. A real edge takes volt-seconds away: one of 1 µs some 1 % of the
// peak in ones, the slowest that the standard allows (2.4 V/µs) some 10 % at 15 V.
//
// Units are SI: volts, amps, ohms, henries, farads, seconds, metres. What cannot be computed is NaN.
package dcc
