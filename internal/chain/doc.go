// Package chain follows things through the records: what it computes are balances
// and walks. Thresholds are arguments; it holds no number of the trade.
package chain
