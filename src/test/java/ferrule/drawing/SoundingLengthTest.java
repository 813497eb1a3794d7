package ferrule.drawing;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Set;
import org.junit.jupiter.api.Test;

class SoundingLengthTest {

  private static final Dimensions D = Trumpet.INSTRUMENT.dimensions();

  /** c / (2 x 116.54 Hz) at 20 C, c = 331.3 sqrt(1 + t / 273.15) m/s: 1.4725 m (computed from the textbook gas law). */
  private static final double ACOUSTIC = 1472.5;

  private static double sounding(String... valves) {
    return Trumpet.INSTRUMENT.airLength(Set.of(valves)) + D.get("mouthpieceAir") + D.get("bellEnd");
  }

  @Test
  void theOpenInstrumentIsAsLongAsBFlatAsks() {
    assertEquals(ACOUSTIC, sounding(), 0.01 * ACOUSTIC);
  }

  /** Equal temperament: k semitones need 2^(k/12) times the length. */
  @Test
  void eachValveAloneAddsItsSemitones() {
    assertEquals(ACOUSTIC * Math.pow(2, 1 / 12.0), sounding("second"), 0.01 * ACOUSTIC);
    assertEquals(ACOUSTIC * Math.pow(2, 2 / 12.0), sounding("first"), 0.01 * ACOUSTIC);
    assertEquals(ACOUSTIC * Math.pow(2, 3 / 12.0), sounding("third"), 0.01 * ACOUSTIC);
  }

  /** Valves add lengths, not ratios: 1+2, 2+3, 1+3, 1+2+3 are 10.634, 15.529, 30.315, 53.559 cents sharp (computed). */
  @Test
  void combinationsAreSharpByWhatTheArithmeticOfValvesSays() {
    assertEquals(10.634, centsSharp(3, "first", "second"), 0.5);
    assertEquals(15.529, centsSharp(4, "second", "third"), 0.5);
    assertEquals(30.315, centsSharp(5, "first", "third"), 0.5);
    assertEquals(53.559, centsSharp(6, "first", "second", "third"), 0.5);
  }

  private static double centsSharp(int semitones, String... valves) {
    return 1200 * Math.log(sounding() * Math.pow(2, semitones / 12.0) / sounding(valves)) / Math.log(2);
  }

  /** 2^(k/12) - 1 of 1472.5 mm: 87.6, 180.3 and 278.6 mm. */
  @Test
  void slidesAddTheLengthsOfTheHandbooks() {
    double open = Trumpet.INSTRUMENT.airLength(Set.of());
    assertEquals(87.6, Trumpet.INSTRUMENT.airLength(Set.of("second")) - open, 0.9);
    assertEquals(180.3, Trumpet.INSTRUMENT.airLength(Set.of("first")) - open, 1.8);
    assertEquals(278.6, Trumpet.INSTRUMENT.airLength(Set.of("third")) - open, 2.8);
  }
}
