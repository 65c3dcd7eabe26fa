//! Measurement in the car against standards, statistics and the independent reference circuits.
mod cabin;
mod columns;
mod fronts;
mod proof;
mod search;
mod standards;
mod statistics;
mod verdict;
