//! The way in: how often it is walked to carry everything in and the spoil out.
//!
//! In: what the job says of the way, and masses in kilograms. Out: trips and metres walked. A trip
//! carries one load one way and goes back empty. Left out: machines, and what a delivery lifts over.

/// Narrowest way that a barrow is wheeled through, in millimetres: 30 in. Common practice, no
/// source.
pub const BARROW: f64 = 762.0;

/// What the job says of the way in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AccessSpec {
    /// Its narrowest place, in millimetres, when stated.
    pub width: Option<f64>,
    /// Steps on the way.
    pub steps: u32,
    /// How far it is from the delivery to the work, in millimetres.
    pub carry: f64,
    /// What one trip carries, in kilograms.
    pub trip: f64,
}

/// Trips over the way in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trips {
    /// With materials, in.
    pub carried_in: u64,
    /// With spoil, out.
    pub carried_out: u64,
    /// Metres walked with the materials, there and back.
    pub walked_in_m: f64,
    /// Metres walked with the spoil, there and back.
    pub walked_out_m: f64,
}

impl AccessSpec {
    /// Whether a barrow can be wheeled in: no steps, and no place narrower than [`BARROW`].
    pub fn takes_barrow(steps: u32, width: Option<f64>) -> bool {
        steps == 0 && width.is_none_or(|width| width >= BARROW)
    }

    /// Trips for masses in kilograms carried in and out.
    pub fn trips(&self, carried_in: f64, carried_out: f64) -> Trips {
        // A load that is full to within a gram counts as full.
        let count = |mass: f64| ((mass - 0.001) / self.trip).ceil().max(0.0);
        let walked = |trips: f64| trips * 2.0 * self.carry / 1000.0;
        let [inward, outward] = [carried_in, carried_out].map(count);
        Trips {
            carried_in: inward as u64,
            carried_out: outward as u64,
            walked_in_m: walked(inward),
            walked_out_m: walked(outward),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 000 kg in loads of 90 kg are 12 trips; 20 m there and back make 480 m.
    #[test]
    fn trips_are_whole_and_go_back() {
        let access = AccessSpec {
            width: Some(900.0),
            steps: 0,
            carry: 20_000.0,
            trip: 90.0,
        };
        let trips = access.trips(1000.0, 180.0);
        assert_eq!((trips.carried_in, trips.carried_out), (12, 2));
        assert!((trips.walked_in_m - 480.0).abs() < 1e-9);
        assert!((trips.walked_out_m - 80.0).abs() < 1e-9);
        assert_eq!(access.trips(0.0, 0.0).carried_in, 0);
    }

    #[test]
    fn steps_and_narrow_gates_keep_barrows_out() {
        assert!(AccessSpec::takes_barrow(0, None));
        assert!(AccessSpec::takes_barrow(0, Some(762.0)));
        assert!(!AccessSpec::takes_barrow(0, Some(700.0)));
        assert!(!AccessSpec::takes_barrow(3, Some(1200.0)));
    }
}
