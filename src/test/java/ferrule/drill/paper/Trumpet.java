package ferrule.drill.paper;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.drawing.InstrumentReader;
import ferrule.drawing.Studio;
import ferrule.drill.DrillStore;
import ferrule.drill.Drills;
import ferrule.drill.ItemKind;
import ferrule.drill.Pictures;
import ferrule.drill.Plan;
import ferrule.drill.Work;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.procedure.ProcedureReader;
import ferrule.store.RealDatabases;
import java.time.Clock;
import java.time.Instant;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;

/** The real trumpet and worksheets on it, for the tests of this package. */
final class Trumpet {

  private static final Problems PROBLEMS = new Problems();

  static final Glossary GLOSSARY = GlossaryReader.read(Curriculum.bundled(), "trumpet", PROBLEMS).orElseThrow();
  static final Studio STUDIO =
      Studio.of(InstrumentReader.read(Curriculum.bundled(), "trumpet", GLOSSARY, PROBLEMS).orElseThrow(), GLOSSARY);
  static final Work WORK = new Work(ProcedureReader.readBook(Curriculum.bundled(), GLOSSARY, PROBLEMS), List.of());
  static final Pictures PICTURES = new Pictures(STUDIO, GLOSSARY);
  static final Drills DRILLS =
      Drills.of(
          new DrillStore(RealDatabases.h2()), GLOSSARY, STUDIO, WORK, "e1", Clock.systemUTC(), () -> 5);
  static final Desk DESK = new Desk(STUDIO, PICTURES, GLOSSARY);
  static final Instant NOON = Instant.parse("2026-11-25T12:00:00Z");
  static final Set<ItemKind> NAMING = EnumSet.of(ItemKind.NAME);
  static final Set<ItemKind> BOTH = EnumSet.of(ItemKind.NAME, ItemKind.FIND);
  static final Set<ItemKind> ALL = EnumSet.allOf(ItemKind.class);

  private Trumpet() {}

  static String[] assemblies() {
    return DRILLS.bank().assemblies().stream().map(ConceptId::value).toArray(String[]::new);
  }

  static Worksheet worksheet(int length, Set<ItemKind> kinds, int versions, String... assemblies) {
    Plan plan = Plan.ofAssemblies(Stream.of(assemblies).map(ConceptId::of).toList(), kinds, length, true);
    List<Version> drawn = DESK.versions(DRILLS.itemsInCommon(Optional.empty(), plan, 7), versions, 7);
    return new Worksheet(
        UUID.nameUUIDFromBytes((length + Arrays.toString(assemblies) + kinds).getBytes(java.nio.charset.StandardCharsets.UTF_8)),
        UUID.randomUUID(), Optional.empty(), "Slides & water keys", "The invented school", plan, 7, "e1",
        UUID.randomUUID(), NOON, drawn);
  }
}
