// The page's clocks, in the hands of a test.

/// A clock the test can move. `pass` moves both clocks as waiting would; `jump`
/// moves only the wall clock, as sleep or a change of the setting does.
export const CLOCK = (skew) => `(() => {
  const kept = Number(sessionStorage.getItem("test-skew") ?? ${skew});
  let wall = kept, steady = 0;
  const Real = Date, now = Real.now.bind(Real);
  class Moved extends Real {
    constructor(...a) { if (a.length) super(...a); else super(now() + wall); }
    static now() { return now() + wall; }
  }
  window.Date = Moved;
  const perf = performance.now.bind(performance);
  performance.now = () => perf() + steady;
  const keep = () => sessionStorage.setItem("test-skew", String(wall));
  window.testClock = {
    pass(ms) { wall += ms; steady += ms; keep(); },
    jump(ms) { wall += ms; keep(); },
  };
})();`;
