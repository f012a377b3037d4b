//! What several test files share: generated numbers, pavers, panels, and jobs worked to a design.

#![allow(dead_code, reason = "each test file takes of it what it needs")]

pub mod job;
pub mod numbers;
pub mod outlines;
pub mod panels;
pub mod pavers;
pub mod places;
pub mod planes;
pub mod said;
pub mod setout;
pub mod worked;
