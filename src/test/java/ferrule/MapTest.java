package ferrule;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.library.dependencies.SlicesRuleDefinition;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** Holds the map of packages that DEVELOPERS.md shows. */
class MapTest {

  /** From the top down: a package may know those after it, never one before it. */
  private static final List<String> TOP_DOWN =
      List.of(
          "app", "upkeep", "rights", "audit", "report", "dossier", "competency", "bench", "drill", "procedure", "atlas", "drawing",
          "naming", "glossary", "roster", "account", "device", "ledger", "web", "people", "site", "curriculum", "store");

  private static final JavaClasses MAIN =
      new ClassFileImporter().withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS).importPackages("ferrule");

  @Test
  void anArrowPointsOnlyDownTheMap() {
    for (int i = 0; i < TOP_DOWN.size(); i++) {
      String[] above = TOP_DOWN.subList(0, i).stream().map(MapTest::room).toArray(String[]::new);
      if (above.length > 0) {
        noClasses()
            .that(resideInAPackage(room(TOP_DOWN.get(i))))
            .should()
            .dependOnClassesThat(resideInAnyPackage(above))
            .allowEmptyShould(true)
            .check(MAIN);
      }
    }
  }

  @Test
  void drawingAndNamingDoNotKnowEachOther() {
    noClasses().that(resideInAPackage(room("drawing"))).should()
        .dependOnClassesThat(resideInAPackage(room("naming"))).allowEmptyShould(true).check(MAIN);
  }

  @Test
  void everyPackageIsOnTheMap() {
    Set<String> rooms =
        MAIN.stream()
            .map(JavaClass::getPackageName)
            .filter(name -> !name.equals("ferrule"))
            .map(name -> name.split("\\.")[1])
            .collect(Collectors.toCollection(TreeSet::new));
    assertTrue(new TreeSet<>(TOP_DOWN).containsAll(rooms), "packages " + rooms + " against the map " + TOP_DOWN);
  }

  @Test
  void noTwoPackagesKnowEachOther() {
    SlicesRuleDefinition.slices().matching("ferrule.(*)..").should().beFreeOfCycles().check(MAIN);
  }

  @Test
  void onlyPagesKnowTheWeb() {
    noClasses()
        .that()
        .haveNameNotMatching(".*Pages(\\$.*)?")
        .and()
        .resideOutsideOfPackages(room("web"), room("app"), room("upkeep"))
        .should()
        .dependOnClassesThat(resideInAnyPackage("io.javalin..", "jakarta.servlet..", room("web")))
        .check(MAIN);
  }

  @Test
  void onlyStoresKnowTheDatabase() {
    noClasses()
        .that()
        .haveNameNotMatching(".*Store(\\$.*)?")
        .and()
        .resideOutsideOfPackages(room("store"), room("app"), room("upkeep"))
        .should()
        .dependOnClassesThat(resideInAnyPackage("org.jooq..", "java.sql..", "javax.sql..", room("store")))
        .check(MAIN);
  }

  @Test
  void everyPackageSaysWhatItIsFor() {
    Set<String> silent =
        MAIN.stream()
            .map(JavaClass::getPackageName)
            .filter(name -> !name.startsWith("ferrule.store.jooq"))
            .filter(name -> MAIN.stream().noneMatch(c -> c.getName().equals(name + ".package-info")))
            .collect(Collectors.toCollection(TreeSet::new));
    assertEquals(Set.of(), silent, "packages without package-info.java");
  }

  @Test
  void everyClassWithTestsIsNamedSoThatItRuns() {
    JavaClasses tests =
        new ClassFileImporter().withImportOption(ImportOption.Predefined.ONLY_INCLUDE_TESTS).importPackages("ferrule");
    classes()
        .that()
        .containAnyMethodsThat(
            com.tngtech.archunit.base.DescribedPredicate.describe(
                "are tests",
                method ->
                    method.isAnnotatedWith("org.junit.jupiter.api.Test")
                        || method.isAnnotatedWith("org.junit.jupiter.params.ParameterizedTest")
                        || method.isAnnotatedWith("net.jqwik.api.Property")
                        || method.isAnnotatedWith("net.jqwik.api.Example")))
        .should()
        .haveNameMatching(".*(Test|IT)(\\$.*)?")
        .check(tests);
  }

  private static String room(String name) {
    return "ferrule." + name + "..";
  }
}
