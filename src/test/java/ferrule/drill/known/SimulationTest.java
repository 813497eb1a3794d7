package ferrule.drill.known;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.known.SimulatedClass.Outcome;
import ferrule.drill.known.SimulatedClass.World;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** A small class of simulated apprentices, whose memories are not those of the model; the whole is in KnownBench. */
class SimulationTest {

  private static final int APPRENTICES = 4;
  private static final int PARTS = 120;
  private static final long SEED = 11;

  @ParameterizedTest
  @EnumSource(World.class)
  void practisingWhatIsWorthItTakesFewerItems(World world) {
    SimulatedClass.Watcher nobody = (apprentice, part, asking, right, day) -> {};
    SimulatedClass a = new SimulatedClass(world, APPRENTICES, PARTS, SEED);
    Outcome random = a.practise(Schedules.randomOrder(a, 1), nobody);
    SimulatedClass b = new SimulatedClass(world, APPRENTICES, PARTS, SEED);
    Outcome expanding = b.practise(Schedules.expanding(b, 1), nobody);
    SimulatedClass c = new SimulatedClass(world, APPRENTICES, PARTS, SEED);
    Knowledge knowledge = new Knowledge(KnownModel.standard());
    Calibration calibration = new Calibration();
    Outcome chosen = c.practise(Schedules.chosen(c, knowledge, 1), calibration.watching(c, knowledge));
    double better = Math.min(random.meanItems(), expanding.meanItems());
    String figures =
        String.format(
            Locale.ROOT,
            "%s: chosen %.0f items, random order %.0f, expanding %.0f; Brier %.3f against %.3f of the mean, error %.3f",
            world, chosen.meanItems(), random.meanItems(), expanding.meanItems(),
            calibration.brier(), calibration.brierOfMean(), calibration.error());
    System.out.println(figures);
    assertEquals(0, chosen.unfinished(), figures);
    assertTrue(chosen.meanItems() < 0.85 * better, figures);
    assertTrue(calibration.brier() < calibration.brierOfMean() && calibration.error() < 0.2, figures);
  }

  @Test
  void theSimulatedBaseLevelIsThatOfActR() {
    // ACT-R base level: uses 1, 4 and 9 ago with d = .5 give ln(1 + 1/2 + 1/3) = 0.606136
    assertEquals(
        0.606136, PowerTraces.baseLevel(List.of(1.0, 4.0, 9.0), List.of(0.5, 0.5, 0.5), List.of(1.0, 1.0, 1.0)), 1e-6);
  }

  @Test
  void theSimulatedHalfLifeHalves() {
    // p = 2^(-t/h): B. Settles, B. Meeder, ACL 2016
    assertEquals(0.5, Halving.named(3, 3), 0);
    assertEquals(0.125, Halving.named(9, 3), 1e-12);
  }
}
