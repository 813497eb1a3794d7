package ferrule.glossary;

import static ferrule.glossary.TrumpetGlossary.CONVENTIONS;
import static ferrule.glossary.TrumpetGlossary.GLOSSARY;
import static ferrule.glossary.TrumpetGlossary.concept;
import static ferrule.glossary.TrumpetGlossary.id;
import static ferrule.glossary.TrumpetGlossary.ofKind;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The conventions of the trade, held against the glossary. Each is common practice, no source. */
class TradeConventionsTest {

  @Test
  void casingsAreNumberedFromThePlayerTowardTheBell() { // common practice, no source
    assertEquals(List.of("first", "second", "third"),
        CONVENTIONS.casings().stream().map(c -> GLOSSARY.get(c).qualifiers().get("valve")).toList());
    // The main tuning slide lies toward the bell, so the air that it turns back meets three first, then two, then one.
    List<ConceptId> passed = CONVENTIONS.airPath().stream().filter(CONVENTIONS.casings()::contains).toList();
    List<ConceptId> reversed = new ArrayList<>(CONVENTIONS.casings());
    Collections.reverse(reversed);
    assertEquals(reversed, passed);
  }

  @Test
  void aPistonCarriesTheNumberOfItsCasing() { // common practice, no source
    assertEquals(CONVENTIONS.casings(), CONVENTIONS.pistons().stream().map(p -> p.casing()).toList());
    for (Conventions.PistonPorts p : CONVENTIONS.pistons()) {
      assertEquals(
          GLOSSARY.get(p.casing()).qualifiers().get("valve"), GLOSSARY.get(p.piston()).qualifiers().get("valve"));
    }
  }

  @Test
  void airGoesLeadpipeMainSlideThirdSecondFirstBell() { // common practice, no source
    List<String> landmarks = List.of("receiver", "leadpipe", "main-slide-crook", "third-casing", "second-casing",
        "first-casing", "bell-tail", "bell-rim");
    assertEquals(landmarks,
        CONVENTIONS.airPath().stream().map(ConceptId::value).filter(landmarks::contains).toList());
    assertEquals(landmarks.get(0), CONVENTIONS.airPath().get(0).value());
    assertEquals("bell-rim", CONVENTIONS.airPath().get(CONVENTIONS.airPath().size() - 1).value());
  }

  @Test
  void thereAreTenKnuckles() { // common practice, no source
    Set<ConceptId> knuckles = ofKind("knuckle").stream().map(Concept::id).collect(Collectors.toSet());
    assertEquals(10, knuckles.size());
    assertEquals(knuckles, new HashSet<>(CONVENTIONS.knuckles()));
    List<Concept> listed = CONVENTIONS.knuckles().stream().map(GLOSSARY::get).toList();
    assertEquals(1, listed.stream().filter(k -> "main".equals(k.qualifiers().get("slide"))).count());
    for (String valve : List.of("first", "second", "third")) {
      assertEquals(2, listed.stream().filter(k -> valve.equals(k.qualifiers().get("valve"))).count(), valve);
    }
    assertEquals(2, listed.stream().filter(k -> k.broader().equals(Optional.of(id("inter-casing-knuckle")))).count());
    assertEquals(1, listed.stream().filter(k -> "bell".equals(k.qualifiers().get("side"))).count());
  }

  @Test
  void fourKnucklesOpenIntoEachCasing() { // follows from the ten knuckles
    for (ConceptId casing : CONVENTIONS.casings()) {
      assertEquals(4, ofKind("knuckle").stream().filter(k -> connected(k.id(), casing)).count(), casing.value());
    }
  }

  @Test
  void eachPistonHasThreePortsNamedByTheTubeEachServes() { // common practice, no source
    for (Conventions.PistonPorts p : CONVENTIONS.pistons()) {
      Set<ConceptId> ports = new LinkedHashSet<>(p.slide());
      ports.add(p.through());
      assertEquals(3, ports.size());
      assertEquals(ports, GLOSSARY.piecesOf(p.piston()).stream()
          .filter(c -> GLOSSARY.kindsOf(c.id()).contains(concept("piston-port")))
          .map(Concept::id).collect(Collectors.toSet()));
      assertEquals(Set.of(p.in(), p.out()), new HashSet<>(GLOSSARY.get(p.through()).connects()));
      for (ConceptId port : p.slide()) {
        Concept slidePort = GLOSSARY.get(port);
        Concept knuckle = GLOSSARY.get(slidePort.connects().get(0));
        assertEquals(slidePort.qualifiers().get("valve"), knuckle.qualifiers().get("valve"));
        assertEquals(slidePort.qualifiers().get("tier"), knuckle.qualifiers().get("tier"));
        assertTrue(slidePort.term().contains(knuckle.qualifiers().get("tier") + " slide"), slidePort.term());
      }
    }
  }

  @Test
  void whatLeavesOneCasingEntersTheNext() { // follows from the way of the air
    List<Conventions.PistonPorts> pistons = CONVENTIONS.pistons();
    assertEquals(id("main-slide-knuckle"), pistons.get(2).in());
    assertEquals(pistons.get(2).out(), pistons.get(1).in());
    assertEquals(pistons.get(1).out(), pistons.get(0).in());
    assertEquals(id("bell-knuckle"), pistons.get(0).out());
  }

  @Test
  void thirdAndFirstSlideCarryAnInnerTubeOnOneLegAndAnOuterOnTheOther() { // common practice, no source
    for (Conventions.SlidePath slide : CONVENTIONS.slides()) {
      Set<String> walls = slide.moving().stream().map(t -> GLOSSARY.get(t).qualifiers().get("wall"))
          .collect(Collectors.toSet());
      boolean mixed = List.of("first-slide-assembly", "third-slide-assembly").contains(slide.slide().value());
      assertEquals(mixed ? Set.of("inner", "outer") : Set.of("inner"), walls, slide.slide().value());
      slide.moving().forEach(tube -> assertEquals(Optional.of(slide.slide()), GLOSSARY.get(tube).partOf()));
    }
  }

  @Test
  void everyLegIsAnInnerTubeInAnOuterTube() { // the definition of a telescoping slide
    for (Conventions.SlidePath slide : CONVENTIONS.slides()) {
      List<Concept> tubes = slide.path().stream().map(GLOSSARY::get)
          .filter(c -> c.qualifiers().containsKey("wall")).toList();
      assertEquals(4, tubes.size());
      for (String tier : List.of("upper", "lower")) {
        List<Concept> leg = tubes.stream().filter(t -> tier.equals(t.qualifiers().get("tier"))).toList();
        assertEquals(Set.of("inner", "outer"),
            leg.stream().map(t -> t.qualifiers().get("wall")).collect(Collectors.toSet()));
        assertEquals(1, leg.stream().filter(t -> slide.moving().contains(t.id())).count());
      }
    }
  }

  @Test
  void aSlideOutOfTheInstrumentIsAnAssembly() { // common practice, no source
    assertEquals(4, CONVENTIONS.slides().size());
    for (Conventions.SlidePath slide : CONVENTIONS.slides()) {
      assertEquals(Level.ASSEMBLY, GLOSSARY.get(slide.slide()).level());
      assertTrue(GLOSSARY.get(slide.slide()).term().endsWith("slide assembly"));
    }
  }

  @Test
  void theLeverOfTheThirdSlideIsMoreDeeplyCurvedThanThatOfTheMainSlide() { // common practice, no source
    assertEquals(List.of(id("third-slide-water-key-lever"), id("main-slide-water-key-lever")),
        CONVENTIONS.leversByCurve());
    assertTrue(concept("third-slide-water-key-lever").definition().contains("deeper"));
  }

  @Test
  void theSecondSlideHasASinglePullKnobInEveryModel() { // common practice, no source
    List<Concept> knobs = ofKind("pull-knob").stream()
        .filter(k -> k.partOf().equals(Optional.of(id("second-slide-assembly")))).toList();
    assertEquals(1, knobs.size());
    assertTrue(knobs.get(0).variants().isEmpty());
  }

  @Test
  void aThumbSaddleTakesThePlaceOfThePullKnob() { // common practice, no source
    assertEquals(Set.of("professional"), concept("first-slide-thumb-saddle").variants());
    assertEquals(Set.of("student"), concept("first-slide-pull-knob").variants());
  }

  @Test
  void everyBraceIsNamedByTheTwoThingsItJoins() { // common practice, no source
    List<Concept> braces = ofKind("brace");
    assertFalse(braces.isEmpty());
    for (Concept brace : braces) {
      assertTrue(namesItsTwoThings(brace, "brace"), brace.term());
    }
  }

  @Test
  void aKnuckleBetweenCasingsIsNamedByTheTwo() { // common practice, no source
    ofKind("inter-casing-knuckle").forEach(knuckle ->
        assertTrue(namesItsTwoThings(knuckle, "knuckle"), knuckle.term()));
  }

  @Test
  void aBraceNamedByAnotherThingWouldBeSeen() {
    Concept brace = concept("bell-third-casing-brace");
    Concept wrong = new Concept(brace.id(), brace.level(),
        List.of(Term.of("bell to second casing brace", TermRole.PREFERRED)), brace.definition(), brace.broader(),
        brace.partOf(), brace.connects(), brace.carries(), brace.joins(), brace.qualifiers(), brace.variants(), true);
    assertFalse(namesItsTwoThings(wrong, "brace"));
  }

  @Test
  void aBraceCanBeOfThreePieces() { // common practice, no source
    for (String brace : List.of("rear-leadpipe-bell-brace", "front-leadpipe-bell-brace")) {
      List<String> pieces = GLOSSARY.piecesOf(id(brace)).stream().map(c -> c.broader().orElseThrow().value()).toList();
      assertEquals(List.of("brace-rod", "brace-flange", "brace-flange"), pieces);
    }
  }

  @Test
  void theThirdSlideHasAStopInEitherForm() { // common practice, no source
    List<Concept> pieces = GLOSSARY.piecesOf(id("third-slide-stop"));
    for (String form : List.of("stop-rod", "stop-screw")) {
      assertTrue(pieces.stream().anyMatch(p -> p.variants().equals(Set.of(form))), form);
    }
  }

  @Test
  void aPathThatTheGlossaryDoesNotConnectIsAProblem(@TempDir Path folder) throws IOException {
    String text = Curriculum.bundled().text("trumpet/conventions.yaml").orElseThrow();
    Files.createDirectories(folder.resolve("trumpet"));
    Files.writeString(folder.resolve("trumpet/conventions.yaml"),
        text.replaceFirst("  - leadpipe\n", "").replaceFirst("casings: \\[first-casing", "casings: [zeroth-casing"));
    Problems problems = new Problems();
    assertTrue(ConventionsReader.read(Curriculum.of(folder), "trumpet", GLOSSARY, problems).isEmpty());
    assertEquals(
        List.of(
            "trumpet/conventions.yaml:5:11: 'zeroth-casing' is not in the glossary; expected the id of a part",
            "trumpet/conventions.yaml:10:5: the glossary does not connect 'leadpipe-ferrule' with 'receiver'; "
                + "expected the next part on the way of the air"),
        problems.all().stream().map(Object::toString).toList());
  }

  private static boolean connected(ConceptId a, ConceptId b) {
    return GLOSSARY.get(a).connects().contains(b) || GLOSSARY.get(b).connects().contains(a);
  }

  /** Whether the term is "A to B brace", words that A and B share being said once. */
  private static boolean namesItsTwoThings(Concept brace, String head) {
    String place = brace.qualifiers().getOrDefault("place", "");
    String phrase = brace.term().substring(0, brace.term().length() - head.length()).strip();
    String joined = phrase.startsWith(place) ? phrase.substring(place.length()).strip() : phrase;
    Concept a = GLOSSARY.get(brace.joins().get(0));
    Concept b = GLOSSARY.get(brace.joins().get(1));
    return phrases(a, b).contains(joined) || phrases(b, a).contains(joined);
  }

  private static Set<String> phrases(Concept a, Concept b) {
    Set<String> phrases = new HashSet<>();
    for (String left : names(a)) {
      for (String right : names(b)) {
        List<String> l = List.of(left.split(" "));
        List<String> r = List.of(right.split(" "));
        int prefix = 0;
        while (prefix < Math.min(l.size(), r.size()) - 1 && l.get(prefix).equals(r.get(prefix))) {
          prefix++;
        }
        int suffix = 0;
        while (suffix < Math.min(l.size(), r.size()) - 1
            && l.get(l.size() - 1 - suffix).equals(r.get(r.size() - 1 - suffix))) {
          suffix++;
        }
        phrases.add(left + " to " + right);
        phrases.add(left + " to " + String.join(" ", r.subList(prefix, r.size())));
        phrases.add(String.join(" ", l.subList(0, l.size() - suffix)) + " to " + right);
      }
    }
    return phrases;
  }

  private static Set<String> names(Concept c) {
    Set<String> names = Composed.plainNamesOf(GLOSSARY, c);
    c.terms().forEach(t -> names.add(t.text()));
    // a name that leaves out every qualifier picks out nothing
    GLOSSARY.kindsOf(c.id()).forEach(kind -> kind.terms().forEach(t -> names.remove(t.text())));
    return names;
  }
}
