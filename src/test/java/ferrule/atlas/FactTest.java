package ferrule.atlas;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

class FactTest {

  /** 2^(k/12) - 1 of 1,472.5 mm: 87.6, 180.3 and 278.6 mm; c / 2f at 20 C by the textbook gas law (computed). */
  @Test
  void eachValveSlideSaysWhatItAdds() {
    assertTrue(text("second-slide-assembly").startsWith("87.6 mm, 5.9 %"), text("second-slide-assembly"));
    assertTrue(text("first-slide-assembly").startsWith("180.3 mm, 12.2 %"), text("first-slide-assembly"));
    assertTrue(text("third-slide-assembly").startsWith("278.6 mm, 18.9 %"), text("third-slide-assembly"));
    assertTrue(text("third-slide-assembly").endsWith("three semitones in equal temperament"));
  }

  @Test
  void aPartWithoutFiguresSaysNone() {
    assertEquals(List.of(), Fact.of(TheTrumpet.STUDIO.instrument(), TheTrumpet.concept("receiver")));
    assertEquals(List.of(), Fact.of(TheTrumpet.STUDIO.instrument(), TheTrumpet.concept("main-slide-assembly")));
    assertEquals(
        List.of(), Fact.of(TheTrumpet.STUDIO.instrument(), TheTrumpet.concept("third-slide-stop")), "adds no length");
  }

  private static String text(String slide) {
    return Fact.of(TheTrumpet.STUDIO.instrument(), TheTrumpet.concept(slide)).get(0).text();
  }
}
