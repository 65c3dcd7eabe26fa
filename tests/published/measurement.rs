//! Measurement in the car against standards, statistics and the independent reference circuits.
mod columns;
mod proof;
mod standards;
mod statistics;
mod verdict;
