/**
 * Words for comparing keys, 256 in each language: things everybody knows, easy
 * to say on the phone, none a slip of one letter away from another, and no
 * accents; in Arabic no vowel marks, and words that differ only in what is
 * often left out (the hamza of an alef, the dots of a last ه) count as one.
 * Vietnamese, whose words are mostly of two syllables and whose marks are
 * letters, has marks, but no two words are near each other without them either.
 * Frozen: a word's place is its number, and printed pages hold them.
 */
const ENGLISH = `
acorn amber anchor apple apron arrow autumn avocado bacon badge basket beach beaver bicycle biscuit blanket blossom
bonnet bottle bracelet branch bread bridge broom bubble bucket butter button cabin cactus camel camera candle canoe
canvas carpet carrot castle cello chalk cherry chess chicken chimney church cinema circle cloud clover coconut coffee
comet compass cookie copper corner cotton cradle crayon crown cushion daisy dance desert dolphin donkey dragon drawer
drum eagle easel elephant engine evening falcon family farmer feather fence fiddle flag flute forest fountain fox friend
frog garage garden garlic giant ginger giraffe glove goat gold grape guitar hammer harbor harvest hazel helmet hill
honey horse hotel island ivory jacket jasmine jelly jewel jigsaw journey jungle kettle kitchen kitten koala ladder
lagoon lamp lantern laundry lemon letter library lilac lion lobster lunch magnet mango maple marble market meadow melon
memory mirror moon morning muffin museum napkin needle noodle north notebook nutmeg oasis ocean olive onion opera orange
orchard otter oven owl paddle palace pancake panda paper parade pasta peanut pebble pencil penguin pepper piano picnic
pigeon pillow pilot planet pocket poem pond potato prairie pumpkin puppet puzzle queen rabbit radio radish railway
rainbow raisin ribbon river robin sailor salad salmon sandal scarf school shadow sheep shell shovel silver spider
spinach spoon spring squirrel stadium star story street sugar summer sunset sweater table teapot tennis theater thimble
thunder ticket tiger toast tomato tractor train trumpet tulip tunnel turtle umbrella valley vanilla velvet village
violet violin wagon walnut water whale wheat whistle window winter wolf yogurt zebra zipper
`;

const SPANISH = `
abeja abrigo aceite aguja ajedrez aldea alfombra almeja amarillo amigo ancla anillo arena armario arroz azul ballena
banco bandera barrio bigote billete blusa bodega bolsillo bosque bota botella brisa broche bufanda burro caballo cabra
cacao caja calle camello camino camisa campana canasta canela cangrejo canica carpeta carta cartero castillo cebolla
cepillo cereza cerilla chaleco cielo ciervo ciruela ciudad clavel cobre cocina cohete collar cometa conejo copa corcho
cordero corona cortina cuaderno cuadro cuchara cuento cuerda cueva dado danza desierto diamante dibujo disco domingo
ducha dulce elefante enero erizo escalera escoba escuela espejo espiga esponja estrella familia faro fiesta flauta flor
fresa fuente funda gaita galleta gallina ganso garza gato gaviota girasol globo gorra granero granja grillo guante
guitarra harina hebilla helado hermano hierba hierro higo hoguera hoja hormiga horno hotel huerta iglesia invierno isla
jarra jinete jirafa joya juego juguete lana laurel leche lechuga lenteja libro lienzo linterna lirio llave lluvia loro
lunes madera maestro maleta mango manta manzana mapa marfil mariposa martillo mayo mercado mesa miel mochila molino mono
mosaico museo naranja nido nieve noche nube nuez oasis oliva olla orilla oruga oveja palacio palma papel paraguas parque
pasillo patata peine pelota pera piano piedra pimienta pincel pintor piscina pizarra plancha planeta plata pluma pozo
pradera pulpo queso rama regalo reino reloj remo roble rosa rueda sauce semilla sendero seta silla sol sombrero tambor
tapiz taza teatro tejado tela templo tienda tigre tijera tinta toalla tomate torre tortuga tren trigo trompeta uva vaca
velero ventana verano verde viajero viento violeta yate yegua zafiro zapato zorro
`;

const ARABIC = `
أخطبوط أرنب أسبوع أغنية أمير أناناس إبريق باب باذنجان بامية باندا ببغاء بجعة بحر برتقال برق بركان بستان بسكويت
بصل بطاطا بطانية بطة بطريق بطيخ بقرة بلبل بندق بيانو بيت بيضة تفاح تلفاز تمر تمساح تنورة تين ثعلب ثلاجة ثلج
ثمرة ثوم جبن جرس جريدة جزر جزيرة جمل جوافة جورب حارس حاسوب حافلة حديد حزام حساء حصان حقل حقيبة حلزون حليب
حمامة حمص حوت خاتم خبز خروف خريطة خزانة خشب خوخ خيار خيط خيمة دجاجة درج دفتر دلفين دلو دمية ذئب ذرة ربيع رسالة
رسام رعد رمان ريح ريحان زبدة زجاج زرافة زرزور زعتر زنبق زنجبيل زهرة زيتون ساعة سبانخ ستارة سجادة سحابة سرير
سفينة سلة سلحفاة سماق سمسم سمكة سنبلة سنجاب سوار سوق شاحنة شارع شاطئ شاعر شاي شتاء شجرة شراع شطرنج شعير شلال
شمام شمس شمعة شوفان شوكة صابون صبار صحراء صحن صقر صندوق صنوبر صوف ضفدع طائرة طابع طاولة طاووس طباخ طبل طماطم
طنجرة عباءة عجلة عدس عسل عصفور عصير عنب عنزة عيد غابة غزال غصن غوريلا فجر فراشة فراولة فرشاة فرن فستق فطيرة
فلاح فلفل فهد فيل قارب قبعة قرفة قصر قطار قطن قفل قلم قمح قميص قنفذ قهوة قيثارة كاكاو كتاب كرز كرسي كستناء كعك
كمون كناري كنغر كهف كوب كوسا لؤلؤ لغز لقلق لوحة ليمون متحف محطة محفظة مدرسة مرآة مربى مزرعة مسرح مسطرة مسمار
مشط مشمش مصباح مطر مطرقة مطعم مظلة معطف معلم مفتاح مقلاة مكتبة مكرونة مكنسة ملعقة ملفوف ملك ممحاة منارة منديل
منشار منشفة منطاد موز ميناء نافذة نافورة نجار نجمة نحاس نحلة نرجس نسر نظارة نعامة نعناع نفق نورس هدهد هدية
واحة وردة وسادة وشاح ياسمين
`;

const FRENCH = `
abeille abricot agneau aigle aiguille ananas anchois arbre armoire arrosoir asperge assiette autobus automne avion
bague balcon baleine bambou banane bateau bijou billet biscuit bison bocal bonbon bonnet bougie bouton bracelet
branche brique brosse brouette buffet bureau cabane cactus cadeau cahier caillou caisse camion canard cannelle caramel
carotte carton cascade casque cerise chaise chamois chanson charbon chemise cheval cheville chocolat chouette cigale
citron clavier cloche coffre colombe coquille corbeau corde costume coton couronne crabe cravate crayon cuisine cuivre
dauphin dessert dessin diamant dimanche dindon domino dragon drapeau falaise famille farine fauteuil feuille ficelle
figue filet flamme fleur flocon fontaine fourmi fraise fromage gant garage girafe gomme gorille goutte grange grenier
grotte guitare haricot harpe hibou hiver horloge huile igloo ivoire jambon jardin jasmin jaune jongleur journal jungle
jupe kayak lampe lapin lavande lettre lilas limonade livre loupe lundi lune machine magasin maillot maison manteau
marmite marmotte matelas melon menthe merle miel miroir montagne montre mouche mouette moulin muguet musique myrtille
nappe navet neige noisette nuage oasis olive ombre omelette oncle oreiller ouragan ours palmier panda panier pantalon
papillon parasol parfum persil phare piano pigeon pinceau pioche pirate piscine pistache placard plage plume poisson
poivre poney poule prune pyjama pyramide radis raisin renard rideau rivage robe robot rocher roseau ruban ruche
ruisseau sabot salade samedi sandale sardine saucisse saumon savon serrure sirop soleil souris statue sucre tabouret
tambour tapis tartine tasse taupe taureau tennis terrasse timbre toboggan tomate tortue tracteur triangle tricot
tulipe tunnel valise vanille vendredi verger veste village violette violon vitrine voisin voiture volcan yaourt
`;

const VIETNAMESE = `
áo dài, áo mưa, ảo thuật, ấm trà, ba lô, bạch tuộc, bãi biển, bài hát, bài thơ, bàn chải, bản đồ, bàn ghế, bảng đen,
bánh bao, bánh chưng, bánh lái, bánh mì, bánh xèo, báo đốm, bảo tàng, bắp cải, bập bênh, bếp lửa, bí đao, bình hoa,
bọ ngựa, bóng đá, bồ câu, bún riêu, buổi sáng, búp bê, bức tranh, bức tường, bươm bướm, bưu điện, cá chép, cà chua,
cá heo, cá mập, ca nô, cà phê, cà rốt, ca sĩ, cá vàng, cá voi, cam sành, cánh cụt, cánh diều, cánh đồng, cao su,
cẩm chướng, cần câu, cầu thang, cầu vồng, cây đa, cây thông, cây tre, cháo gà, chảo gang, châu chấu, chìa khóa,
chiếc nhẫn, chim sẻ, chó sói, chôm chôm, chú hề, chuồn chuồn, chuông gió, chuột túi, con ếch, con mèo, con nhện,
con rồng, con sóc, con tem, con trâu, cô giáo, cối xay, công chúa, công viên, cờ vua, cơn mưa, củ gừng, củ hành,
cú mèo, củ nghệ, củ tỏi, cung điện, cuộn len, cuốn sách, cửa sổ, cừu non, dâu tây, dây chuyền, dây thừng, dê núi,
dòng sông, dưa hấu, dương cầm, đà điểu, đại bàng, đám mây, đàn bầu, đàn tranh, đất sét, đậu xanh, đèn lồng, đèn pin,
đom đóm, đồng hồ, đồng xu, đu đủ, đu quay, đười ươi, đường phèn, gà trống, gạo nếp, gấu trúc, ghi ta, giếng nước,
gương soi, hà mã, hải cẩu, hải đăng, hang động, hàng rào, hoa cúc, hoa đào, hoa hồng, hoa huệ, hoa lan, họa mi,
hoa sen, hoàng tử, học trò, hồ tiêu, hộp quà, hướng dương, hươu sao, kẹo dừa, khăn quàng, khế chua, kho báu,
khoai lang, khoai tây, khu rừng, kim chỉ, kim cương, kính lúp, kỳ lân, la bàn, lá cờ, lá phong, lá thư, lạc đà,
lâu đài, lì xì, lúa mì, lưỡi liềm, mái nhà, máy bay, máy giặt, máy tính, măng cụt, mặt trăng, mặt trời, mật ong,
mẫu đơn, mê cung, mỏ neo, mũ len, mùa hè, mùa thu, mùa xuân, nấm rơm, ngã tư, ngọn nến, ngọn núi, ngôi sao, ngỗng trời,
ngựa vằn, nhà ga, nhà vua, nhãn lồng, nón lá, nồi cơm, nông dân, nút áo, nước mắm, ốc sên, ống nhòm, ớt chuông,
pháo hoa, phấn trắng, phi công, phong cầm, phở bò, phượng vĩ, rái cá, rau muống, rùa biển, sa mạc, san hô, sao biển,
sáo trúc, sân bay, sân khấu, sầu riêng, siêu thị, sư tử, sữa chua, sương mù, tai nghe, tàu thủy, tắc kè, tê giác,
tên lửa, thác nước, tháng giêng, thanh long, thằn lằn, thiên nga, thỏ trắng, thợ may, thợ mộc, thủy thủ, thủy tiên,
thuyền buồm, thư viện, ti vi, tổ chim, tôm hùm, tờ báo, tơ tằm, trống đồng, trung thu, trường học, tủ lạnh, tượng đá,
va li, vải lụa, vải thiều, vàng anh, vệ tinh, vĩ cầm, viên gạch, viên ngọc, vỏ sò, vương miện, xe buýt, xe đạp, xe tải,
xoài chín, xôi gấc, xương rồng, yên ngựa
`;

const listOf = (text: string): readonly string[] => text.trim().split(/\s+/);
/** Words of several syllables, with commas between. */
const phrasesOf = (text: string): readonly string[] => text.trim().split(/,\s+/);

export const CHECK_WORD_LISTS = {
  en: listOf(ENGLISH),
  es: listOf(SPANISH),
  fr: listOf(FRENCH),
  ar: listOf(ARABIC),
  vi: phrasesOf(VIETNAMESE),
} as const;
export type CheckWordLanguage = keyof typeof CHECK_WORD_LISTS;
