//! Points and vectors of the site plane: different types, so that a place is never added to a
//! place. Millimetres, x right, y up.

/// A place on site, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right of the plan.
    pub x: f64,
    /// Up the plan.
    pub y: f64,
}

/// A displacement on site, in millimetres, or a direction when of unit length.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vector {
    /// To the right of the plan.
    pub x: f64,
    /// Up the plan.
    pub y: f64,
}

impl Point {
    /// The point at `(x, y)` millimetres.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Distance to another point, in millimetres.
    pub fn distance(self, other: Point) -> f64 {
        (other - self).length()
    }

    /// The point half way to another.
    pub fn midpoint(self, other: Point) -> Point {
        Point::new((self.x + other.x) / 2.0, (self.y + other.y) / 2.0)
    }
}

impl Vector {
    /// The vector `(x, y)`.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Length, in millimetres.
    pub fn length(self) -> f64 {
        libm::hypot(self.x, self.y)
    }

    /// Dot product.
    pub fn dot(self, other: Vector) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Cross product (z component): positive when `other` lies to the left of `self`.
    pub fn cross(self, other: Vector) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Turned a quarter anticlockwise: the left-hand normal.
    pub fn left(self) -> Vector {
        Vector::new(-self.y, self.x)
    }

    /// The same direction at unit length, or `None` for a vector of no length.
    pub fn unit(self) -> Option<Vector> {
        let length = self.length();
        (length > 0.0).then(|| Vector::new(self.x / length, self.y / length))
    }

    /// Turned anticlockwise by `degrees`; quarter turns are exact.
    pub fn turned(self, degrees: f64) -> Vector {
        let quarter = degrees.rem_euclid(360.0) / 90.0;
        if quarter.fract() == 0.0 {
            return match quarter as u8 {
                0 => self,
                1 => self.left(),
                2 => -self,
                _ => -self.left(),
            };
        }
        let radians = degrees.to_radians();
        let (sin, cos) = (libm::sin(radians), libm::cos(radians));
        Vector::new(self.x * cos - self.y * sin, self.x * sin + self.y * cos)
    }
}

impl std::ops::Sub for Point {
    type Output = Vector;
    fn sub(self, other: Point) -> Vector {
        Vector::new(self.x - other.x, self.y - other.y)
    }
}

impl std::ops::Add<Vector> for Point {
    type Output = Point;
    fn add(self, by: Vector) -> Point {
        Point::new(self.x + by.x, self.y + by.y)
    }
}

impl std::ops::Add for Vector {
    type Output = Vector;
    fn add(self, other: Vector) -> Vector {
        Vector::new(self.x + other.x, self.y + other.y)
    }
}

impl std::ops::Sub for Vector {
    type Output = Vector;
    fn sub(self, other: Vector) -> Vector {
        Vector::new(self.x - other.x, self.y - other.y)
    }
}

impl std::ops::Neg for Vector {
    type Output = Vector;
    fn neg(self) -> Vector {
        Vector::new(-self.x, -self.y)
    }
}

impl std::ops::Mul<f64> for Vector {
    type Output = Vector;
    fn mul(self, by: f64) -> Vector {
        Vector::new(self.x * by, self.y * by)
    }
}
