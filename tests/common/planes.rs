//! Jobs of one plane, and of two that meet in a line.

/// Two areas of 3 m by 4 m that meet along x = 3 m, with their falls and anything else of the job.
pub fn pair(west: &str, east: &str, more: &str) -> String {
    format!(
        "job: {{title: Two planes}}\nsheet: {{units: metric}}\n\
         paving:\n\
         - {{name: West, rectangle: {{corner: [0, 0], width: 3 m, depth: 4 m}}, fall: {west}}}\n\
         - {{name: East, rectangle: {{corner: [3 m, 0], width: 3 m, depth: 4 m}}, fall: {east}}}\n\
         pavers:\n  slab: {{size: [300 mm, 300 mm], thickness: 40 mm}}\n{more}"
    )
}

/// A fall of 2% to the east down to the line where both meet, from the west.
pub const TO_EAST: &str = "{at: [3 m, 0], level: 0, fall: 2%, towards: 90°}";
/// The same from the east to the west.
pub const TO_WEST: &str = "{at: [3 m, 0], level: 0, fall: 2%, towards: 270°}";

/// One area of 6 m by 4 m with a hole of 1 m by 1 m, its fall and anything else of the job.
pub fn one(more: &str, fall: &str) -> String {
    format!(
        "job: {{title: One plane}}\nsheet: {{units: metric}}\n\
         paving:\n- {{name: Yard, rectangle: {{corner: [0, 0], width: 6 m, depth: 4 m}}, \
         holes: [{{rectangle: {{corner: [2 m, 1 m], width: 1 m, depth: 1 m}}}}]}}\n\
         pavers:\n  slab: {{size: [300 mm, 300 mm], thickness: 40 mm}}\n\
         levels: {{finish: {{at: A, level: 0, fall: 2%, {fall}}}}}\n{more}"
    )
}
