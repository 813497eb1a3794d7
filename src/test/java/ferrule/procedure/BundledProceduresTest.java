package ferrule.procedure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** The procedures that the program carries. */
class BundledProceduresTest {

  private static final Problems PROBLEMS = new Problems();
  private static final Curriculum CURRICULUM = Curriculum.bundled();
  private static final Glossary GLOSSARY = GlossaryReader.read(CURRICULUM, "trumpet", PROBLEMS).orElseThrow();
  private static final Cautions CAUTIONS = CautionReader.read(CURRICULUM, PROBLEMS).orElseThrow();
  private static final ToolCrib CRIB = ToolCribReader.read(CURRICULUM, CAUTIONS, PROBLEMS).orElseThrow();
  private static final List<Procedure> PROCEDURES =
      ProcedureReader.read(CURRICULUM, GLOSSARY, CAUTIONS, CRIB, PROBLEMS);

  @Test
  void everyFileIsAProcedureWithoutFault() {
    assertEquals(List.of(), PROBLEMS.all());
    assertEquals(CURRICULUM.files("trumpet/procedures").size(), PROCEDURES.size());
    assertTrue(PROCEDURES.size() >= 10, PROCEDURES.size() + " procedures");
  }

  @Test
  void everyProcedureHasSixToFourteenStepsAndMoreThanOneOrderThatWorks() {
    for (Procedure procedure : PROCEDURES) {
      int steps = procedure.steps().size();
      assertTrue(steps >= 6 && steps <= 14, procedure + " has " + steps + " steps");
      assertTrue(LinearExtensions.of(procedure.order()).count().longValueExact() > 1, procedure + " is a chain");
    }
  }

  @Test
  void everyToolAndMaterialOfTheCribIsUsed() {
    Set<Tool> tools = new HashSet<>(CRIB.tools());
    Set<Material> materials = new HashSet<>(CRIB.materials());
    PROCEDURES.forEach(p -> {
      tools.removeAll(p.tools());
      materials.removeAll(p.materials());
    });
    assertEquals(Set.of(), tools.stream().map(Tool::id).collect(Collectors.toSet()));
    assertEquals(Set.of(), materials.stream().map(Material::id).collect(Collectors.toSet()));
  }

  @Test
  void solderIsFedToAHotFluxedJointThatIsSetAndShielded() {
    Procedure soldering = procedure("solder-loose-brace");
    for (String earlier : List.of("degrease-joint", "flux-joint", "set-brace", "shield", "heat-joint")) {
      assertTrue(precedes(soldering, earlier, "feed-solder"), earlier);
    }
  }

  @Test
  void acidIsRinsedAndNeutralisedBeforeAnythingIsDried() {
    Procedure clean = procedure("chemical-clean");
    assertTrue(precedes(clean, "dip", "rinse-acid"));
    assertTrue(precedes(clean, "rinse-acid", "neutralise"));
    assertTrue(precedes(clean, "neutralise", "dry"));
  }

  @Test
  void whatHurtsIsSaidWhereTheWorkIsDescribed() {
    assertTrue(cautions("chemical-clean", "dip").containsAll(List.of("acid", "eyes")));
    assertTrue(
        cautions("solder-loose-brace", "heat-joint").containsAll(List.of("heat", "flame", "fume", "flux", "eyes")));
    assertTrue(cautions("solder-loose-brace", "remove-old").contains("lead"));
    assertTrue(cautions("buffing-lacquer", "buff").containsAll(List.of("buffing", "noise", "eyes")));
    assertTrue(cautions("stuck-mouthpiece", "draw-even").contains("stuck-part"));
    assertTrue(cautions("water-key-cork", "free-spring").contains("flying-spring"));
  }

  @Test
  void theCautionsDeferToTheDataSheetTheLocalCodeAndTheInstructor() {
    assertTrue(CAUTIONS.restsWith().contains("safety data sheet"));
    assertTrue(CAUTIONS.restsWith().contains("local code"));
    assertTrue(CAUTIONS.restsWith().contains("supervising instructor"));
  }

  private static Procedure procedure(String id) {
    return PROCEDURES.stream().filter(p -> p.id().value().equals(id)).findFirst().orElseThrow();
  }

  private static boolean precedes(Procedure procedure, String earlier, String later) {
    return procedure.order().precedes(procedure.indexOf(StepId.of(earlier)), procedure.indexOf(StepId.of(later)));
  }

  private static List<String> cautions(String procedure, String step) {
    return procedure(procedure).step(StepId.of(step)).cautions().stream().map(Caution::id).toList();
  }
}
