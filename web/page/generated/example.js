// Generated of the core's types by `cargo run -p lieflat-tests --example generate`: not to be edited.
// The invented example that the page opens on: in metric, and in inches.

/** @type {import('../types/brief.d.ts').Brief} */
export const metric = {
  "schema": "lieflat.brief",
  "version": 1,
  "title": "Invented example: the Tarn tee",
  "neckline": {
    "readings_at": "cut_edge",
    "neckline_allowance_mm": 10,
    "front": {
      "outline": {
        "measured": {
          "half_length_mm": 154,
          "depth_mm": 115,
          "shape": {
            "kind": "round"
          }
        }
      },
      "centre": "fold",
      "shoulder_allowance_mm": 10,
      "shoulder_slope_deg": 20
    },
    "back": {
      "outline": {
        "measured": {
          "half_length_mm": 108,
          "half_width_mm": 88,
          "shape": {
            "kind": "round"
          }
        }
      },
      "centre": "fold",
      "shoulder_allowance_mm": 10,
      "shoulder_slope_deg": 20
    }
  },
  "garment_knit": {
    "name": "Invented cotton jersey with elastane",
    "crosswise": {
      "readings": {
        "rest_mm": 100,
        "stretched_mm": 160,
        "released_mm": 103
      }
    },
    "elastane_percent": 5
  },
  "strip_direction": "crosswise",
  "finish": {
    "band": {
      "width_mm": 15,
      "layers": "folded",
      "point": "mitre",
      "join_allowance_mm": 6
    }
  },
  "stitch": "overlock",
  "head": {
    "girth": {
      "own_mm": 565
    },
    "margin_mm": 20
  },
  "stays": {
    "tape_width_mm": 9.5,
    "catch_mm": 1,
    "shoulders": true
  },
  "rounding": "millimetre",
  "tolerances": {
    "reading_mm": 2,
    "stretch_points": 5,
    "recovery_points": 10,
    "allowance_mm": 1,
    "poisson_ratio": 0.1,
    "slope_deg": 2,
    "width_mm": 1,
    "roundness_points": 8
  },
  "rules": {
    "hold_share": 0.1,
    "comfort_share": 0.6,
    "tape_hold": 0.02,
    "pull_share": 0.8,
    "mark_tolerance_mm": 3,
    "passing_rise_mm": 2,
    "passing_lean_deg": 60,
    "clip_opening_mm": 4,
    "turn_per_thickness": 1.570796
  }
};

/** @type {import('../types/brief.d.ts').Brief} */
export const inches = {
  "schema": "lieflat.brief",
  "version": 1,
  "title": "Invented example: the Tarn tee",
  "neckline": {
    "readings_at": "cut_edge",
    "neckline_allowance_mm": 9.525,
    "front": {
      "outline": {
        "measured": {
          "half_length_mm": 152.4,
          "depth_mm": 114.3,
          "shape": {
            "kind": "round"
          }
        }
      },
      "centre": "fold",
      "shoulder_allowance_mm": 9.525,
      "shoulder_slope_deg": 20
    },
    "back": {
      "outline": {
        "measured": {
          "half_length_mm": 107.95,
          "half_width_mm": 88.9,
          "shape": {
            "kind": "round"
          }
        }
      },
      "centre": "fold",
      "shoulder_allowance_mm": 9.525,
      "shoulder_slope_deg": 20
    }
  },
  "garment_knit": {
    "name": "Invented cotton jersey with elastane",
    "crosswise": {
      "readings": {
        "rest_mm": 101.6,
        "stretched_mm": 161.925,
        "released_mm": 104.775
      }
    },
    "elastane_percent": 5
  },
  "strip_direction": "crosswise",
  "finish": {
    "band": {
      "width_mm": 15.875,
      "layers": "folded",
      "point": "mitre",
      "join_allowance_mm": 6.35
    }
  },
  "stitch": "overlock",
  "head": {
    "girth": {
      "own_mm": 565.15
    },
    "margin_mm": 19.05
  },
  "stays": {
    "tape_width_mm": 9.525,
    "catch_mm": 1.5875,
    "shoulders": true
  },
  "rounding": "eighth_inch",
  "tolerances": {
    "reading_mm": 2,
    "stretch_points": 5,
    "recovery_points": 10,
    "allowance_mm": 1,
    "poisson_ratio": 0.1,
    "slope_deg": 2,
    "width_mm": 1,
    "roundness_points": 8
  },
  "rules": {
    "hold_share": 0.1,
    "comfort_share": 0.6,
    "tape_hold": 0.02,
    "pull_share": 0.8,
    "mark_tolerance_mm": 3,
    "passing_rise_mm": 2,
    "passing_lean_deg": 60,
    "clip_opening_mm": 4,
    "turn_per_thickness": 1.570796
  }
};
