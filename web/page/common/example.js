// The invented example that the page opens on: the core's own, held to it by a check.

export default {
  "schema": "lieflat.brief",
  "version": 1,
  "title": "Invented example: the Tarn tee",
  "neckline": {
    "readings_at": "cut_edge",
    "neckline_allowance_mm": 10.0,
    "front": {
      "outline": {
        "measured": {
          "half_length_mm": 154.0,
          "depth_mm": 115.0,
          "shape": {
            "kind": "round"
          }
        }
      },
      "centre": "fold",
      "shoulder_allowance_mm": 10.0,
      "shoulder_slope_deg": 20.0
    },
    "back": {
      "outline": {
        "measured": {
          "half_length_mm": 108.0,
          "half_width_mm": 88.0,
          "shape": {
            "kind": "round"
          }
        }
      },
      "centre": "fold",
      "shoulder_allowance_mm": 10.0,
      "shoulder_slope_deg": 20.0
    }
  },
  "garment_knit": {
    "name": "Invented cotton jersey with elastane",
    "crosswise": {
      "readings": {
        "rest_mm": 100.0,
        "stretched_mm": 160.0,
        "released_mm": 103.0
      }
    },
    "elastane_percent": 5.0
  },
  "strip_direction": "crosswise",
  "finish": {
    "band": {
      "width_mm": 15.0,
      "layers": "folded",
      "point": "mitre",
      "join_allowance_mm": 6.0
    }
  },
  "stitch": "overlock",
  "head": {
    "girth": {
      "own_mm": 565.0
    },
    "margin_mm": 20.0
  },
  "stays": {
    "tape_width_mm": 9.5,
    "catch_mm": 1.0,
    "shoulders": true
  },
  "rounding": "millimetre",
  "tolerances": {
    "reading_mm": 2.0,
    "stretch_points": 5.0,
    "recovery_points": 10.0,
    "allowance_mm": 1.0,
    "width_mm": 1.0,
    "roundness_points": 8.0
  },
  "rules": {
    "hold_share": 0.1,
    "comfort_share": 0.6,
    "tape_hold": 0.02,
    "pull_share": 0.8,
    "mark_tolerance_mm": 3.0,
    "clip_opening_mm": 4.0,
    "turn_per_thickness": 1.5707963267948966
  }
};
