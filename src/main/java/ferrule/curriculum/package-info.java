/**
 * Reads the folder of files that people write by hand: YAML with a JSON Schema for each kind of file, every fault
 * reported with its file, line and column.
 *
 * <p>It knows no other package. Start at {@link ferrule.curriculum.Curriculum}; the features' own readers, such as the
 * glossary's, ask it for a {@link ferrule.curriculum.YamlNode} and add the checks that a schema cannot express.
 */
package ferrule.curriculum;
