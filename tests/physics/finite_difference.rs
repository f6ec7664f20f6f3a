//! A second way to the centre of a jar, independent of the series: finite
//! differences in radius and height, forward in time, on three grids, with
//! Richardson extrapolation. Nothing here uses the code under test.

/// Food, its start and its surroundings.
pub struct Case {
    pub radius: f64,
    pub half_height: f64,
    /// m²/s.
    pub alpha: f64,
    /// Surface coefficient over conductivity, 1/m; `None` for a surface at the
    /// temperature of the surroundings.
    pub film: Option<f64>,
    pub start: f64,
    /// Minute and °C, whole minutes, straight lines between; a minute twice is a step.
    pub steam: Vec<(u32, f64)>,
}

impl Case {
    /// Temperature of the surroundings, after any step at that time.
    fn surroundings(&self, minutes: f64) -> f64 {
        let mut now = self.steam[0].1;
        for pair in self.steam.windows(2) {
            let [(t0, s0), (t1, s1)] = [pair[0], pair[1]];
            let (t0, t1) = (f64::from(t0), f64::from(t1));
            if minutes >= t1 {
                now = s1;
            } else if minutes >= t0 {
                return s0 + (s1 - s0) * (minutes - t0) / (t1 - t0);
            }
        }
        now
    }

    /// The centre's temperature at each of the minutes, extrapolated to an
    /// endlessly fine grid, with the last correction as a measure of its error.
    pub fn centre(&self, minutes: &[u32]) -> Vec<(f64, f64)> {
        let coarse = self.on_grid(12, minutes);
        let middle = self.on_grid(24, minutes);
        let fine = self.on_grid(48, minutes);
        // Time steps shrink with the square of the mesh, so all errors run in
        // even powers of it.
        let zip = coarse.iter().zip(&middle).zip(&fine);
        zip.map(|((a, b), c)| {
            let (first, second) = ((4.0 * b - a) / 3.0, (4.0 * c - b) / 3.0);
            let best = (16.0 * second - first) / 15.0;
            (best, (best - second).abs())
        })
        .collect()
    }

    fn on_grid(&self, n: usize, minutes: &[u32]) -> Vec<f64> {
        let (dr, dz) = (self.radius / n as f64, self.half_height / n as f64);
        // A step short enough to be stable, a film's surface nodes included, and
        // the same ratio on all grids: four times the steps on half the mesh.
        let refined = n / 12;
        let mesh = dr.max(dz) * refined as f64;
        let limit = 0.35 / (1.0 + self.film.unwrap_or(0.0) * mesh);
        let rate = self.alpha * (1.0 / (dr * dr) + 1.0 / (dz * dz)) * 60.0;
        let coarse_steps = (rate / limit / (refined * refined) as f64).ceil() as usize;
        let steps = (coarse_steps * refined * refined) as u32;
        let dt = 60.0 / f64::from(steps);
        let (a_r, a_z) = (self.alpha * dt / (dr * dr), self.alpha * dt / (dz * dz));
        let width = n + 1;
        let mut old = vec![self.start; width * width];
        let mut new = old.clone();
        let mut found = Vec::new();
        for step in 0..=minutes.iter().max().unwrap() * steps {
            if step % steps == 0 && minutes.contains(&(step / steps)) {
                found.push(old[0]);
            }
            let outside = self.surroundings(f64::from(step) / f64::from(steps));
            if self.film.is_none() {
                for i in 0..width {
                    old[i * width + n] = outside;
                    old[n * width + i] = outside;
                }
            }
            let free = if self.film.is_some() { width } else { n };
            for i in 0..free {
                // Radius goes down the rows; half a mesh over the radius weighs
                // the two neighbours.
                let bend = if i == 0 { 0.0 } else { 0.5 / i as f64 };
                for j in 0..free {
                    let here = old[i * width + j];
                    let beyond = |inner: f64, mesh: f64| {
                        inner - 2.0 * mesh * self.film.unwrap_or(0.0) * (here - outside)
                    };
                    let along_r = if i == 0 {
                        4.0 * (old[width + j] - here)
                    } else {
                        let inner = old[(i - 1) * width + j];
                        let outer =
                            if i == n { beyond(inner, dr) } else { old[(i + 1) * width + j] };
                        (1.0 + bend) * (outer - here) + (1.0 - bend) * (inner - here)
                    };
                    let along_z = if j == 0 {
                        2.0 * (old[i * width + 1] - here)
                    } else {
                        let inner = old[i * width + j - 1];
                        let outer = if j == n { beyond(inner, dz) } else { old[i * width + j + 1] };
                        outer - 2.0 * here + inner
                    };
                    new[i * width + j] = here + a_r * along_r + a_z * along_z;
                }
            }
            std::mem::swap(&mut old, &mut new);
        }
        found
    }
}
