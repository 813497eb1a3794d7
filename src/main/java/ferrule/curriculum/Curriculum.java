package ferrule.curriculum;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.JarURLConnection;
import java.net.URI;
import java.net.URISyntaxException;
import java.net.URL;
import java.net.URLConnection;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NotDirectoryException;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Collections;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.jar.JarEntry;
import java.util.jar.JarFile;
import java.util.stream.Stream;

/**
 * A folder of curriculum files, taken as a whole at one moment: one sub-folder for each instrument, with its glossary,
 * tasks and the like. Immutable; later changes on disk are not seen.
 *
 * <p>Example: {@code Curriculum.bundled().read("trumpet/glossary.yaml", "glossary", problems)}.
 *
 * <p>Paths are below the curriculum's folder, with forward slashes. The files are small (tens of kilobytes) and are
 * held in memory.
 */
public final class Curriculum {

  private static final String RESOURCES = "/curriculum";
  private static final String KNOWN_RESOURCE = RESOURCES + "/schema/glossary.schema.json";

  private final SortedMap<String, byte[]> files;

  private Curriculum(SortedMap<String, byte[]> files) {
    this.files = Collections.unmodifiableSortedMap(files);
  }

  /** The curriculum that the program carries, whether it runs from its jar or from a folder of classes. */
  public static Curriculum bundled() {
    URL known = Curriculum.class.getResource(KNOWN_RESOURCE);
    if (known == null) {
      throw new IllegalStateException("the program carries no curriculum: " + KNOWN_RESOURCE + " is missing");
    }
    try {
      URLConnection connection = known.openConnection();
      if (connection instanceof JarURLConnection jar) {
        return new Curriculum(inJar(jar));
      }
      return of(Path.of(known.toURI()).getParent().getParent());
    } catch (IOException e) {
      throw new UncheckedIOException("the bundled curriculum cannot be read", e);
    } catch (URISyntaxException e) {
      throw new IllegalStateException("the bundled curriculum has no usable address: " + known, e);
    }
  }

  private static SortedMap<String, byte[]> inJar(JarURLConnection connection) throws IOException {
    SortedMap<String, byte[]> files = new TreeMap<>();
    String prefix = RESOURCES.substring(1) + "/";
    // A jar of one's own, not the shared cached one, which others may be reading classes from.
    URI jarFile = URI.create(connection.getJarFileURL().toString());
    try (JarFile jar = new JarFile(Path.of(jarFile).toFile())) {
      for (JarEntry entry : Collections.list(jar.entries())) {
        if (entry.getName().startsWith(prefix) && isCurriculum(entry.getName().substring(prefix.length()))) {
          try (InputStream in = jar.getInputStream(entry)) {
            files.put(entry.getName().substring(prefix.length()), in.readAllBytes());
          }
        }
      }
    }
    return files;
  }

  /**
   * The curriculum in a folder on disk.
   *
   * @throws UncheckedIOException if there is no such folder or a file of it cannot be read
   */
  public static Curriculum of(Path folder) {
    SortedMap<String, byte[]> files = new TreeMap<>();
    try {
      if (!Files.isDirectory(folder)) {
        throw new NotDirectoryException(folder.toString());
      }
      try (Stream<Path> found = Files.walk(folder)) {
        for (Path file : found.filter(Files::isRegularFile).toList()) {
          String path = folder.relativize(file).toString().replace('\\', '/');
          if (isCurriculum(path)) {
            files.put(path, Files.readAllBytes(file));
          }
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException("the curriculum in " + folder + " cannot be read", e);
    }
    return new Curriculum(files);
  }

  /** A curriculum of these texts by path, for what is kept elsewhere than in a folder. */
  public static Curriculum of(Map<String, String> texts) {
    SortedMap<String, byte[]> files = new TreeMap<>();
    texts.forEach((path, text) -> files.put(path, text.getBytes(StandardCharsets.UTF_8)));
    return new Curriculum(files);
  }

  private static boolean isCurriculum(String path) {
    return path.endsWith(".yaml");
  }

  /** The folders that hold a glossary, sorted: one for each instrument. */
  public List<String> instruments() {
    return files.keySet().stream()
        .filter(path -> path.matches("[^/]+/glossary\\.yaml"))
        .map(path -> path.substring(0, path.indexOf('/')))
        .toList();
  }

  /** The paths of all YAML files, sorted. */
  public List<String> files() {
    return List.copyOf(files.keySet());
  }

  /** The paths of the YAML files directly in a folder, sorted; the empty folder name stands for the top folder. */
  public List<String> files(String folder) {
    String prefix = folder.isEmpty() ? "" : folder + "/";
    return files.keySet().stream()
        .filter(path -> path.startsWith(prefix) && path.indexOf('/', prefix.length()) < 0)
        .toList();
  }

  /** The text of a file, if there is one. Bytes that are not UTF-8 show as replacement characters. */
  public Optional<String> text(String path) {
    return Optional.ofNullable(files.get(path)).map(bytes -> new String(bytes, StandardCharsets.UTF_8));
  }

  /**
   * The root of a file that is faultless in itself.
   *
   * @param path such as {@code trumpet/glossary.yaml}
   * @param schema the name of its schema, such as {@code glossary} for {@code schema/glossary.schema.json}
   * @param problems receives every fault of the file: YAML that cannot be read, a key that stands twice, a breach of
   *     the schema; a file that does not exist is one too
   * @return empty if the file has a fault
   */
  public Optional<YamlNode> read(String path, String schema, Problems problems) {
    Problems own = new Problems();
    Optional<SoundPart> part = readSoundPart(path, schema, own);
    own.all().forEach(problem -> problems.add(problem.at(), problem.message()));
    return own.isEmpty() ? part.map(SoundPart::root) : Optional.empty();
  }

  /**
   * As {@link #read}, but for readers that go on with a faulty file in order to report all of its faults at once.
   *
   * @return what is left without the faulty pieces; empty if nothing is
   */
  public Optional<SoundPart> readSoundPart(String path, String schema, Problems problems) {
    SchemaCheck check = new SchemaCheck(schema, problems);
    byte[] bytes = files.get(path);
    if (bytes == null) {
      problems.add(new Position(path, 1, 1), "this file is missing");
      return Optional.empty();
    }
    try {
      String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
      return new YamlParser(path, problems).parse(text).flatMap(check::check);
    } catch (CharacterCodingException e) {
      problems.add(new Position(path, 1, 1), "the file is not UTF-8 text");
      return Optional.empty();
    }
  }

  /**
   * Twelve hexadecimal digits that stand for the content: equal for equal files, whatever folder or jar they are read
   * from and however lines end; another edition as soon as a file is added, renamed, removed or changed.
   */
  public String edition() {
    MessageDigest digest = sha256();
    for (Map.Entry<String, byte[]> file : files.entrySet()) {
      byte[] content = new String(file.getValue(), StandardCharsets.UTF_8)
          .replace("\r\n", "\n").getBytes(StandardCharsets.UTF_8);
      byte[] name = file.getKey().getBytes(StandardCharsets.UTF_8);
      // the lengths stand in front so that no two sets of files run together into the same bytes
      digest.update(ByteBuffer.allocate(2 * Integer.BYTES).putInt(name.length).putInt(content.length).array());
      digest.update(name);
      digest.update(content);
    }
    return HexFormat.of().formatHex(digest.digest()).substring(0, 12);
  }

  private static MessageDigest sha256() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }
}
